"""Decides how reports from site stand in tables, with the story of each item as it was then."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from certs.models import SiteReport
from certs.pages import claim_tables, story_tables
from certs.pages.addresses import page_of, story_of
from certs.queries.site_reports import stories_of, things_of
from inventory.pages.reading import day, moment
from inventory.pages.table import Cell, Line, Table, build_table

_SHORT = 120


@dataclass(frozen=True, slots=True)
class StoryThen:
    """A story that was attached to a report, as tables; `key` is unique on the page."""

    key: str
    kind: str
    code: str
    text: str
    href: str
    parts: Sequence[tuple[str, str, Table]]


def state_of(report: SiteReport) -> Cell:
    """Tell whether someone has settled a report."""
    if report.closed_at is not None:
        return Cell(f"closed {day(report.closed_at)}", shape="past")
    if report.hold is not None:
        return Cell("open, under hold", shape="stop")
    return Cell("open: nobody has settled it", shape="wait")


def table_of_reports(rows: Iterable[SiteReport]) -> Table:
    """Tell reports with what was said."""
    return build_table(
        columns=("Report", "What is wrong", "Item", "In their words", "Received", "State"),
        lines=(
            Line(
                (
                    Cell(report.code, href=page_of(report.code)),
                    report.get_kind_display(),
                    ", ".join(things_of(report)),
                    shortened(report.words),
                    moment(report.received_at),
                    state_of(report),
                ),
                is_held=report.hold is not None and report.closed_at is None,
            )
            for report in rows
        ),
        folds=True,
    )


def shortened(words: str) -> str:
    """Give the beginning of what was said."""
    return words if len(words) <= _SHORT else f"{words[:_SHORT].rstrip()} …"


def stories_told(report: SiteReport) -> list[StoryThen]:
    """Tell the stories that were attached when the report came in."""
    return [_then(story, f"then-{place}") for place, story in enumerate(stories_of(report), 1)]


def _then(story: Mapping[str, Any], key: str) -> StoryThen:
    asked = story["asked"]
    tables = [
        table
        for rope in story["back"]
        for table in (
            (f"Reels {rope['piece']} was on", story_tables.reels_back(rope["reels"])),
            (f"Heats in {rope['piece']}", story_tables.heats_back(rope["heats"])),
        )
    ]
    tables += [
        ("Fitting lots", story_tables.lots(story["fitting_lots"])),
        ("Proof-load tests", claim_tables.proof(story["proof_tests"])),
        ("Certificates", claim_tables.certificates(story["certificates"])),
        ("Deliveries", story_tables.deliveries(story["deliveries"])),
        ("Customers", claim_tables.customers(story["customers"])),
        ("Holds that stood", story_tables.holds(story["holds"])),
    ]
    shown = [(title, table) for title, table in tables if table.rows]
    return StoryThen(
        key=key,
        kind=asked["kind"],
        code=asked["code"],
        text=asked["text"],
        href=story_of(asked["code"]),
        parts=[(f"{key}-{place}", *part) for place, part in enumerate(shown, 1)],
    )
