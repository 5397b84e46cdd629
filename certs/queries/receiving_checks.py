"""Reads the receiving checks of reels: which one stands, and what stands in the way of a paper.

What a check found is decided when it is made (`receiving`), and kept as it was found.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db.models import QuerySet

from certs.models import ReceivingCheck
from certs.rules.finding import Verdict
from certs.rules.measured_diameter import Readings
from inventory.models import Reel
from inventory.queries.families import mill_reel_of

_NEED = "Measure it at goods in and record what was found."


@dataclass(frozen=True, slots=True)
class CheckStanding:
    """A mill's reel, the last check made of it, and whether it may go into a certificate.

    `text` is a whole sentence: what stands in the way and what to do, or what was found.
    """

    reel_code: str
    check: ReceivingCheck | None
    is_met: bool
    text: str


def checks_of(reel: Reel) -> QuerySet[ReceivingCheck]:
    """Return every check of a mill's reel, the one that stands first."""
    found = ReceivingCheck.objects.filter(reel=reel)
    return found.select_related("reel", "hold", "agreed", "checked_by").order_by("-id")


def check_of_code(code: str) -> ReceivingCheck | None:
    """Return the check of a code; None where nothing has it."""
    found = ReceivingCheck.objects.filter(code=code)
    return found.select_related("reel", "hold", "agreed", "checked_by").first()


def last_weighing(reel: Reel) -> ReceivingCheck | None:
    """Return the last check in which a length of this rope was weighed; None where none was."""
    of_rope = ReceivingCheck.objects.filter(reel=mill_reel_of(reel))
    return of_rope.filter(weighed_mass_g__isnull=False).order_by("-id").first()


def check_standings(reel_codes: Iterable[str]) -> list[CheckStanding]:
    """Say of each mill's reel, in the order given, whether its last check lets it be certified."""
    codes = list(dict.fromkeys(reel_codes))
    rows = ReceivingCheck.objects.filter(reel__code__in=codes).select_related("reel", "hold")
    latest = {check.reel.code: check for check in rows.order_by("id")}
    return [_standing(code, latest.get(code)) for code in codes]


def points(check: ReceivingCheck, verdict: Verdict) -> list[str]:
    """List the points of a check that came to a verdict, each once, in their order."""
    found = (one["topic"] for one in check.findings if one["verdict"] == verdict.value)
    return list(dict.fromkeys(found))


def readings_of(check: ReceivingCheck) -> Readings | None:
    """Give the four readings of a check; None where the diameter was not measured."""
    read = (check.place1_a_nm, check.place1_b_nm, check.place2_a_nm, check.place2_b_nm)
    whole = tuple(one for one in read if one is not None)
    return Readings(*whole) if len(whole) == len(read) else None


def _standing(code: str, check: ReceivingCheck | None) -> CheckStanding:
    if check is None:
        text = f"{code} was received without a check. {_NEED}"
        return CheckStanding(code, None, is_met=False, text=text)
    named = f"{code}: check {check.code}"
    if check.outcome != ReceivingCheck.Outcome.DISAGREES:
        return CheckStanding(code, check, is_met=True, text=f"{named} {_no_quarrel(check)}.")
    against = f"{named} does not agree on: {_listed(points(check, Verdict.DISAGREE))}"
    hold = check.hold
    if hold is not None and hold.released_at is not None:
        text = f"{against}. Accepted by decision: {hold.release_reason}"
        return CheckStanding(code, check, is_met=True, text=text)
    held = hold.code if hold else "its hold"
    text = (
        f"{against}. Settle it, or measure the reel again; then the QA officer decides and"
        f" releases {held} with a reason."
    )
    return CheckStanding(code, check, is_met=False, text=text)


def _no_quarrel(check: ReceivingCheck) -> str:
    unsaid = points(check, Verdict.CANNOT_SAY)
    if not unsaid:
        return "agrees in every point"
    return f"found nothing that does not agree; cannot be said: {_listed(unsaid)}"


def _listed(names: Sequence[str]) -> str:
    return ", ".join(name[:1].lower() + name[1:] for name in names)
