"""Checks a received reel against its specification; what does not agree puts it on hold at once.

What agrees is decided by the rules. Whether a reel that does not agree may be used after all is
decided by the QA officer, who releases the hold with a reason.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from django.db import transaction

from certs.models import ReceivingCheck
from certs.queries.receiving import Measured, findings_of, standards_held
from certs.rules.finding import Finding, Outcome, disagreeing, overall
from certs.rules.measured_diameter import FIELDS, check_readings
from certs.rules.roles import ClaimAct
from certs.rules.zinc_class import check_zinc_class
from certs.services.authority import require
from inventory.models import Hold, Person, Reel
from inventory.rules.as_given import kept_as_given
from inventory.rules.canonical import JsonValue
from inventory.rules.designation import parse_designation
from inventory.rules.refusal import Refusal
from inventory.rules.units import format_metres
from inventory.services import journal, numbering
from inventory.services.guarded import add_row
from inventory.services.holds import place_hold
from inventory.services.locks import lock_row

LONGEST_REASON = 300
FIGURES = (*FIELDS, "weighed_length_mm", "weighed_mass_g")


class CannotCheck(Refusal):
    """A receiving check cannot be recorded so."""


def check_reel(*, reel: Reel, measured: Measured, by: Person, at: datetime) -> ReceivingCheck:
    """Compare a mill's reel with its specification and keep every finding as it was found.

    A finding that disagrees puts the reel on hold in the same act.

    Raises:
        CannotCheck: no mill's reel, a standard that is not held, an agreement on another rope,
            or a weighing that is not whole.
        Refusal: a reading that no such rope can give, or a zinc class that is none.
    """
    require(by=by, act=ClaimAct.CHECK_REEL)
    _check_reel(reel)
    measured = check_measured(reel, measured)
    figures = _figures(measured)
    as_given = kept_as_given(measured.as_given, figures)
    with transaction.atomic():
        locked = lock_row(reel)
        findings = findings_of(locked, measured)
        outcome = overall(findings)
        code = numbering.take_code(numbering.RECEIVING_CHECK)
        hold = None
        if outcome is Outcome.DISAGREES:
            hold = _hold(locked, code, disagreeing(findings), by=by, at=at)
        check = ReceivingCheck(
            code=code,
            reel=locked,
            standard=_standard_applied(measured),
            agreed=measured.agreed,
            **figures,
            zinc_class=measured.zinc_class,
            as_given=as_given,
            findings=[finding.as_json() for finding in findings],
            outcome=outcome.value,
            hold=hold,
            note=measured.note.strip(),
            checked_at=at,
            checked_by=by,
        )
        add_row(check, refusal=CannotCheck)
        journal.append(
            at=at,
            by=by,
            act=ClaimAct.CHECK_REEL.value,
            subject=check.code,
            detail=_detail(check, findings),
            rows=[check],
        )
    return check


def check_measured(reel: Reel, measured: Measured) -> Measured:
    """Refuse measurements that no check of this reel can rest on; give them as they are kept.

    The reel need not be on record yet: its designation, diameter and length are asked for.

    Raises:
        CannotCheck: a standard that is not held, an agreement on another rope, half a weighing.
        Refusal: a reading that no such rope can give, or a zinc class that is none.
    """
    _check_limits(reel, measured)
    _check_weighing(reel, measured)
    if measured.readings is not None:
        check_readings(measured.readings, nominal_nm=reel.diameter_nm)
    return replace(measured, zinc_class=check_zinc_class(measured.zinc_class))


def _check_reel(reel: Reel) -> None:
    if reel.origin != Reel.Origin.MILL:
        message = (
            f"{reel.code} was wound here: the rope is checked on the mill’s reel it came from."
        )
        raise CannotCheck(message, field="reel")


def _check_limits(reel: Reel, measured: Measured) -> None:
    held = standards_held()
    if measured.standard and measured.standard not in held:
        message = (
            f"No limits of {measured.standard} are held; name one of {', '.join(held)},"
            " or an agreed specification."
        )
        raise CannotCheck(message, field="standard")
    agreed = measured.agreed
    if agreed and parse_designation(agreed.designation) != parse_designation(reel.designation):
        message = f"{agreed} is for {agreed.designation}, the reel is {reel.designation}."
        raise CannotCheck(message, field="agreed")


def _check_weighing(reel: Reel, measured: Measured) -> None:
    length_mm, mass_g = measured.weighed_length_mm, measured.weighed_mass_g
    if (length_mm is None) != (mass_g is None):
        message = "Give both the length that was weighed and its mass, or neither."
        raise CannotCheck(message, field="weighed_mass_g")
    if length_mm is None or mass_g is None:
        return
    if length_mm <= 0 or mass_g <= 0:
        message = "A length that was weighed and its mass are above nought."
        raise CannotCheck(message, field="weighed_mass_g")
    if length_mm > reel.length_mm:
        message = f"The reel holds {format_metres(reel.length_mm)}: no more of it can be weighed."
        raise CannotCheck(message, field="weighed_length_mm")


def _standard_applied(measured: Measured) -> str:
    """An agreement that states limits of its own goes before a standard."""
    is_agreed = bool(measured.agreed and measured.agreed.diameter_minus_pct)
    return "" if is_agreed else measured.standard


def _figures(measured: Measured) -> dict[str, int | None]:
    """Give what was measured by the columns of the check."""
    readings = measured.readings.by_field if measured.readings else {}
    return {
        **readings,
        "weighed_length_mm": measured.weighed_length_mm,
        "weighed_mass_g": measured.weighed_mass_g,
    }


def _hold(reel: Reel, code: str, found: Sequence[Finding], *, by: Person, at: datetime) -> Hold:
    """Put the reel on hold, naming the points that do not agree as far as there is room."""
    topics = dict.fromkeys(finding.topic for finding in found)
    reason = f"Receiving check {code} does not agree: {'; '.join(topics)}."
    if len(reason) > LONGEST_REASON:
        reason = f"{reason[: LONGEST_REASON - 1]}…"
    return place_hold(subject=reel, reason=reason, by=by, at=at)


def _detail(check: ReceivingCheck, findings: Sequence[Finding]) -> dict[str, JsonValue]:
    # What an agreement is called, and a topic with the mill's own numbers, may name a firm.
    return {
        "reel": check.reel.code,
        "outcome": check.outcome,
        "verdicts": [finding.verdict.value for finding in findings],
        "hold": check.hold.code if check.hold else None,
        "standard": check.standard,
        "figures": {name: getattr(check, name) for name in FIGURES},
        "zinc_class": check.zinc_class,
    }
