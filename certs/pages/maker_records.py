"""Decides how the record of a maker is shown: the chart, what it says together, and each test."""

from collections.abc import Iterable
from decimal import Decimal

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from certs.pages.derivations import ShownDerivation, shown_steps
from certs.pages.forms.maker_records import USUAL, MakerRecordForm
from certs.pages.maker_chart import chart_of, table_of_points
from certs.pages.rendering import show
from certs.queries.maker_record import RecordEntry, maker_record, maker_records, mill_of_code
from certs.rules.derived import Derived, Gap, trimmed
from certs.rules.maker_record import MakerFigures
from certs.rules.maker_risk import MakerRisk, maker_risk
from inventory.pages.acting import found, signed_in
from inventory.pages.facts import Fact
from inventory.pages.reading import day
from inventory.pages.table import Cell, Column, Line, Table, build_table

# Said only where there are figures.
OF_CHANCE = (
    "The figures suppose results that vary by chance alone about one mean. A point beyond the"
    " limits says that something changed; find out what before relying on any of them."
)
CAUTIONS = (
    (
        "A record of the past is no promise: what a reel may be certified for rests on its own"
        " documents and tests, never on this page."
    ),
    OF_CHANCE,
    (
        "A breaking force is not a load that a rope may carry. A competent person must judge what"
        " these figures mean for any use."
    ),
)


@signed_in
def records(request: HttpRequest) -> HttpResponse:
    """List the makers and ropes of which samples were broken."""
    return show(
        request,
        "certs/maker_records.html",
        area="tests",
        table=_list(maker_records()),
    )


@signed_in
def record(request: HttpRequest, code: str, designation: str) -> HttpResponse:
    """Show one rope of one maker: chart, limits, and every test."""
    shown = maker_record(mill=found(mill_of_code(code)), designation=designation)
    found(shown.points or None)
    form = MakerRecordForm({"coverage": USUAL, "confidence": USUAL, **request.GET.dict()})
    coverage, confidence = form.share("coverage"), form.share("confidence")
    figures = shown.figures(coverage=coverage, confidence=confidence)
    title = f"Measured over required force, {shown.mill.code}, {designation}"
    risk = _risk(figures, form.uncertainty)
    return show(
        request,
        "certs/maker_record.html",
        area="tests",
        mill=shown.mill,
        designation=designation,
        form=form,
        facts=_facts(figures, coverage, confidence) if isinstance(figures, MakerFigures) else [],
        remarks=figures.remarks if isinstance(figures, MakerFigures) else (),
        problem=figures.reason if isinstance(figures, Gap) else "",
        steps=_steps(figures),
        risk_steps=[one for part in _risks(risk) for one in shown_steps(part)],
        risk_problem=risk.reason if isinstance(risk, Gap) else "",
        drawing=chart_of(shown.points, figures, title=title),
        points=table_of_points(shown.points, figures),
        cautions=[one for one in CAUTIONS if one != OF_CHANCE or isinstance(figures, MakerFigures)],
    )


def address_of(*, mill: str, designation: str) -> str:
    """Give the address of one record, by the code of the mill and the designation."""
    return reverse("certs:maker_record", args=[mill, designation])


def _list(entries: Iterable[RecordEntry]) -> Table:
    columns = (
        "Rope",
        "Maker",
        Column("Tests", is_number=True),
        Column("Counted", is_number=True),
        Column("Below required", is_number=True),
        "Latest",
        "Figures",
    )
    lines = (
        Line(
            (
                Cell(
                    one.designation,
                    href=address_of(mill=one.mill.code, designation=one.designation),
                ),
                Cell(one.mill.name, note=one.mill.code),
                str(one.tests),
                str(one.counted),
                str(one.failed),
                day(one.latest_at),
                Cell("chart and limits", shape="good")
                if one.is_enough
                else Cell("not enough data", shape="open"),
            )
        )
        for one in entries
    )
    return build_table(columns=columns, lines=lines, folds=True)


def _facts(figures: MakerFigures, coverage: Decimal, confidence: Decimal) -> list[Fact]:
    chart = figures.chart
    share, sure, lowest = (
        f"{trimmed(one * 100)}\N{NO-BREAK SPACE}%"
        for one in (coverage, confidence, figures.lowest.stated)
    )
    limit = Fact(
        "Lower tolerance limit",
        figures.tolerance.text,
        note=f"{share} of such rope reach at least this times the required force, with {sure}"
        " confidence",
    )
    reached = (
        Fact("Against the required force", "the limit reaches it", shape="good")
        if figures.is_reached
        else Fact(
            "Against the required force",
            "the limit is below it",
            shape="wait",
            note="this record does not show that such rope reaches its required force: more"
            " results may, or the rope may not",
        )
    )
    return [
        Fact("Mean", f"{chart.centre.stated:.3f}", note="of the results that broke clear"),
        Fact("Control limits", f"{chart.lower.stated:.3f} to {chart.upper.stated:.3f}"),
        _beyond(figures),
        limit,
        reached,
        Fact(
            "Without any distribution",
            f"{share} reach the lowest result, with {lowest} confidence",
            note=figures.lowest.basis,
        ),
    ]


def _beyond(figures: MakerFigures) -> Fact:
    count = len(figures.outside)
    if not count:
        return Fact("Beyond the limits", "none", shape="good")
    return Fact("Beyond the limits", f"{count} of the results", shape="stop")


def _steps(figures: MakerFigures | Gap) -> list[ShownDerivation]:
    if isinstance(figures, Gap):
        return []
    parts = (figures.chart.lower, figures.chart.upper, figures.tolerance, figures.lowest)
    return list(dict.fromkeys(step for part in parts for step in shown_steps(part)))


def _risk(figures: MakerFigures | Gap, uncertainty: Decimal | None) -> MakerRisk | Gap | None:
    if isinstance(figures, Gap) or uncertainty is None:
        return None
    return maker_risk(figures, expanded_percent=uncertainty)


def _risks(risk: MakerRisk | Gap | None) -> tuple[Derived, ...]:
    return (risk.passed_too_weak, risk.failed_though_strong) if isinstance(risk, MakerRisk) else ()
