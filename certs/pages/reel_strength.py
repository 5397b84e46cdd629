"""Decides how the strength of a reel is told step by step, and how its basis is named."""

from collections.abc import Iterable, Iterator

from django.http import HttpRequest, HttpResponse

from certs.models import StrengthBasis
from certs.pages.acting import for_claim
from certs.pages.addresses import page_of
from certs.pages.affected_papers import table_of_affected
from certs.pages.breaking_shown import record_shown
from certs.pages.derivations import shown_steps
from certs.pages.forms.basis import BasisForm
from certs.pages.outcome_tables import outcome_shape
from certs.pages.rendering import allowed_acts, show
from certs.pages.wire_tables import table_on_rope
from certs.queries.claim_registers import bases_of
from certs.queries.decisions import turned_down
from certs.queries.derivation import NoBasis, certified_force, diameter_limits, length_mass
from certs.queries.grade import grade_of
from certs.queries.papers_affected import papers_affected_on
from certs.queries.receiving import can_compare_force
from certs.queries.receiving_checks import checks_of
from certs.queries.rope_tests import RopeTest, tests_on_rope
from certs.queries.wire_tests import route_from, wire_tests_on
from certs.rules.cautions import ROPE_ONLY
from certs.rules.derived import Derived, Gap, plain
from certs.rules.roles import ClaimAct
from certs.services.specify import name_basis
from inventory.models import Reel
from inventory.pages.acting import deed, done, found, perform, typed
from inventory.pages.facts import Fact
from inventory.pages.reading import shown_force
from inventory.pages.table import Cell, Column, Line, Table, build_table
from inventory.queries.families import mill_reel_of
from inventory.queries.things import reel_of_code


@for_claim(ClaimAct.NAME_BASIS, is_read_by_all=True)
def reel_strength(request: HttpRequest, code: str) -> HttpResponse:
    """What may be certified of a reel's rope, on what, and how it follows."""
    reel = found(reel_of_code(code))
    form = BasisForm(*typed(request), reel=reel)
    named = perform(request, lambda: name_basis(reel=reel, **form.values, **deed(request)), form)
    if named is not None:
        return done(request, f"The basis of {code} is named.", "certs:reel_strength", code)
    force, problem = _force(reel)
    breaks, wires = tests_on_rope(reel), wire_tests_on(reel)
    return show(
        request,
        "certs/reel_strength.html",
        area="reels",
        reel=reel,
        form=form,
        steps=shown_steps(force) if force else [],
        problem=problem,
        facts=_facts(reel, force) if force else [],
        tests=_tests_table(breaks),
        record=record_shown(reel),
        affected=table_of_affected(papers_affected_on(reel), allowed=allowed_acts(request)),
        wires=table_on_rope(wires),
        route=route_from(wires, breaks),
        bases=_bases_table(bases_of(reel)),
        cautions=ROPE_ONLY,
        check_again=_check_again(reel),
    )


def _force(reel: Reel) -> tuple[Derived | None, str]:
    try:
        return certified_force(reel), ""
    except NoBasis as problem:
        return None, problem.message


def _check_again(reel: Reel) -> str:
    """Name the mill's reel if its declared force can be compared only now; else nothing."""
    check = checks_of(mill_reel_of(reel)).first()
    return check.reel.code if check is not None and can_compare_force(check) else ""


def _facts(reel: Reel, force: Derived) -> list[Fact]:
    mass, limits = length_mass(reel), diameter_limits(reel)
    grade = grade_of(reel)
    diameter = (
        Fact("Measured diameter", "no value held", note=limits.reason)
        if isinstance(limits, Gap)
        else Fact(
            "Measured diameter",
            f"{plain(limits.min_mm)} to {plain(limits.max_mm)} mm",
            note=limits.source.text,
        )
    )
    return [
        Fact("Certified minimum breaking force", force.text, note=force.basis),
        Fact("Tensile grade", grade.text, note=" ".join((*grade.reasons, *grade.information))),
        _mass(mass),
        diameter,
    ]


def _mass(mass: Derived | Gap) -> Fact:
    if isinstance(mass, Gap):
        return Fact("Length mass", "no value held", note=mass.reason)
    return Fact("Length mass", mass.text, note=mass.source.text)


def _tests_table(tests: Iterable[RopeTest]) -> Table:
    columns = (
        "Test",
        "Sample",
        Column("Peak", is_number=True),
        Column("Required", is_number=True),
        "Outcome",
        "In doubt because",
    )
    lines = (
        Line(
            (
                Cell(one.test.code, href=page_of(one.test.code)),
                Cell(one.test.sample.code, href=page_of(one.test.sample.code)),
                shown_force(one.test.peak_n),
                shown_force(one.test.required_n),
                Cell(one.test.get_outcome_display(), shape=outcome_shape(one.test.outcome)),
                " ".join((*one.doubts, *_turned_down(one))),
            )
        )
        for one in tests
    )
    return build_table(columns=columns, lines=lines, folds=True)


def _turned_down(one: RopeTest) -> Iterator[str]:
    """Say why a test that met its force supports none; a failure counts whatever its rule says."""
    why = "" if one.has_failed else turned_down(one.test)
    if why:
        yield why


def _bases_table(bases: Iterable[StrengthBasis]) -> Table:
    lines = (
        Line(
            (
                Cell(str(basis.factor or basis.tabulated or basis.agreed or "declared value")),
                basis.get_kind_display(),
                basis.reason,
                f"{basis.named_at.date()}, {basis.named_by}",
                Cell("past", shape="past") if number else Cell("stands", shape="good"),
            )
        )
        for number, basis in enumerate(bases)
    )
    columns = ("Row", "Kind", "Reason", "Named", "State")
    return build_table(columns=columns, lines=lines, folds=True)
