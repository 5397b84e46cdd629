"""Decides how the results of a maker stand in a chart and in the table beside it."""

from collections.abc import Sequence

from certs.documents.control_chart import ChartLines, ChartPoint, draw_control_chart
from certs.documents.control_marks import WORDS
from certs.pages.addresses import page_of
from certs.queries.maker_record import RecordPoint
from certs.rules.derived import Gap, plain
from certs.rules.maker_record import MakerFigures, Standing
from inventory.documents.svg import Drawing
from inventory.pages.reading import day, shown_force
from inventory.pages.table import Cell, Column, Line, Table, build_table

_SHAPES = {
    Standing.MEETS: "good",
    Standing.FAILS: "stop",
    Standing.LOWER_BOUND: "good",
    Standing.DISCOUNTED: "past",
    Standing.IN_DOUBT: "past",
    Standing.PLACE_UNKNOWN: "past",
}


def chart_of(points: Sequence[RecordPoint], figures: MakerFigures | Gap, *, title: str) -> Drawing:
    """Draw the tests, with the limits where there are any."""
    outside = _outside(figures)
    return draw_control_chart(
        points=[
            ChartPoint(
                code=point.test.code,
                day=day(point.test.tested_at),
                ratio=float(point.result.ratio),
                standing=point.result.standing,
                is_outside=place in outside,
                href=page_of(point.test.code),
            )
            for place, point in enumerate(points)
        ],
        lines=_lines(figures),
        title=title,
    )


def table_of_points(points: Sequence[RecordPoint], figures: MakerFigures | Gap) -> Table:
    """Tell the same tests in words, the oldest first."""
    outside = _outside(figures)
    columns = (
        "Test",
        "Tested",
        "Reel",
        Column("Measured", is_number=True),
        Column("Required", is_number=True),
        Column("Measured over required", is_number=True),
        "Result",
        "Remarks",
    )
    lines = (
        Line(
            (
                Cell(point.test.code, href=page_of(point.test.code)),
                day(point.test.tested_at),
                Cell(point.test.sample.reel.code, href=page_of(point.test.sample.reel.code)),
                shown_force(point.test.peak_n),
                shown_force(point.test.required_n),
                plain(point.result.ratio),
                Cell(WORDS[point.result.standing], shape=_SHAPES[point.result.standing]),
                " ".join((*(["Beyond the limits."] if place in outside else []), *point.doubts)),
            )
        )
        for place, point in enumerate(points)
    )
    return build_table(columns=columns, lines=lines, folds=True)


def _outside(figures: MakerFigures | Gap) -> frozenset[int]:
    return frozenset(figures.outside) if isinstance(figures, MakerFigures) else frozenset()


def _lines(figures: MakerFigures | Gap) -> ChartLines | None:
    if isinstance(figures, Gap):
        return None
    chart = figures.chart
    mean, lower, upper = (float(one.unrounded) for one in (chart.centre, chart.lower, chart.upper))
    return ChartLines(mean=mean, lower=lower, upper=upper)
