"""Decides how receiving checks are told: those of a reel, and one with all that it found."""

from collections.abc import Iterable
from decimal import Decimal

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from certs.models import ReceivingCheck
from certs.pages.acting import for_claim, may_do
from certs.pages.addresses import page_of
from certs.pages.forms.receiving import MeasuredForm
from certs.pages.found_points import OUTCOME_SHAPES, found_points
from certs.pages.receiving import told_of
from certs.pages.rendering import show
from certs.queries.receiving_checks import check_of_code, checks_of, points
from certs.rules.derived import trimmed
from certs.rules.finding import Verdict
from certs.rules.measured_diameter import FIELDS
from certs.rules.roles import ClaimAct
from certs.services.check_reel import check_reel as check_a_reel
from inventory.models import Reel
from inventory.pages.acting import deed, done, found, perform, signed_in, typed
from inventory.pages.facts import Fact, told
from inventory.pages.reading import moment, shown_mass, shown_metres
from inventory.pages.table import Cell, Line, Table, build_table
from inventory.queries.families import mill_reel_of
from inventory.queries.things import reel_of_code
from inventory.rules.as_given import beside

KEPT = ("standard", "agreed", "zinc_class")
_NM_PER_MM = 10**6


@for_claim(ClaimAct.CHECK_REEL, is_read_by_all=True)
def check_reel(request: HttpRequest, code: str) -> HttpResponse:
    """Every check of a reel, and the measuring of it anew for whoever keeps the stores."""
    reel = found(reel_of_code(code))
    is_mills = reel.origin == Reel.Origin.MILL
    mill_reel = reel if is_mills else mill_reel_of(reel)
    checks = list(checks_of(mill_reel))
    form = _form(request, checks[0] if checks else None)
    check = None
    if form is not None and is_mills:
        check = perform(request, lambda: _check(request, reel, form), form)
    if check is not None:
        said = f"Reel {code} is {told_of(check)}"
        return done(request, said, "certs:receiving_check", check.code)
    return show(
        request,
        "certs/check_reel.html",
        area="reels",
        reel=reel,
        mill_reel=mill_reel,
        form=form if is_mills else None,
        latest=checks[0] if checks else None,
        shape=OUTCOME_SHAPES[checks[0].outcome] if checks else "",
        checks=_checks_table(checks),
    )


@signed_in
def receiving_check(request: HttpRequest, code: str) -> HttpResponse:
    """One check: what was measured, and point by point what agrees with what."""
    check = found(check_of_code(code))
    latest = checks_of(check.reel).first()
    return show(
        request,
        "certs/receiving_check.html",
        area="reels",
        check=check,
        shape=OUTCOME_SHAPES[check.outcome],
        facts=_facts(check),
        points=found_points(check),
        later=latest if latest != check else None,
        hold_href=reverse("inventory:hold", args=[check.hold.code]) if check.hold else "",
    )


def _form(request: HttpRequest, last: ReceivingCheck | None) -> MeasuredForm | None:
    """Give the form to whoever may check; anybody may read what was found.

    What is no measurement is offered as it was in the last check.
    """
    if may_do(request, ClaimAct.CHECK_REEL):
        kept = {name: getattr(last, name) for name in KEPT} if last else {}
        return MeasuredForm(*typed(request), initial=kept)
    return None


def _check(request: HttpRequest, reel: Reel, form: MeasuredForm) -> ReceivingCheck:
    return check_a_reel(reel=reel, measured=form.measured, **deed(request))


def _facts(check: ReceivingCheck) -> list[Fact]:
    figures = [_reading(check, name) for name in FIELDS]
    reading = f"{' · '.join(figures[:2])}; {' · '.join(figures[2:])}" if all(figures) else ""
    length, mass = check.weighed_length_mm, check.weighed_mass_g
    weighed = ""
    if length is not None and mass is not None:
        length_text = beside(shown_metres(length), check.as_given, "weighed_length_mm")
        mass_text = beside(shown_mass(mass), check.as_given, "weighed_mass_g")
        weighed = f"{length_text}: {mass_text}"
    return told(
        Fact("Reel", check.reel.code, href=page_of(check.reel.code), note=check.reel.designation),
        Fact("Diameter limits of", check.standard or "none named"),
        Fact("Agreed specification", str(check.agreed or "")),
        Fact("Readings, place 1; place 2", reading or "not measured"),
        Fact("Weighed", weighed or "not weighed"),
        Fact("Zinc class in the mill’s document", check.zinc_class or "none stated"),
        Fact("Note", check.note),
        Fact("Checked", f"{moment(check.checked_at)}, {check.checked_by}"),
    )


def _reading(check: ReceivingCheck, name: str) -> str:
    value_nm = getattr(check, name)
    if value_nm is None:
        return ""
    return beside(f"{trimmed(Decimal(value_nm) / _NM_PER_MM)} mm", check.as_given, name)


def _checks_table(checks: Iterable[ReceivingCheck]) -> Table:
    lines = (
        Line(
            (
                Cell(check.code, href=page_of(check.code)),
                f"{moment(check.checked_at)}, {check.checked_by}",
                Cell(check.get_outcome_display(), shape=OUTCOME_SHAPES[check.outcome]),
                ", ".join(points(check, Verdict.DISAGREE)),
                _hold_cell(check),
            )
        )
        for check in checks
    )
    columns = ("Check", "Made", "Outcome", "Does not agree", "Hold")
    return build_table(columns=columns, lines=lines, folds=True)


def _hold_cell(check: ReceivingCheck) -> Cell:
    hold = check.hold
    if hold is None:
        return Cell("")
    note = f"released: {hold.release_reason}" if hold.released_at else "stands"
    return Cell(hold.code, href=page_of(hold.code), note=note)
