"""Decides how a story is laid out: what stands, map, genealogy, what happened, tests, papers."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from certs.models import SiteReport
from certs.pages import claim_tables, story_tables
from certs.pages.addresses import page_of
from certs.pages.addresses import story_of as story_page
from certs.pages.reel_figure import ReelFigure, figures_of
from certs.pages.site_reports_table import table_of_reports
from certs.pages.story_curves import SmallCurve, curves_of
from certs.pages.story_now import facts_now
from certs.pages.story_time import Day, days_told, people_told
from certs.pages.wire_tables import table_of_wire_rows
from certs.queries.as_known import end_of
from certs.queries.held_codes import held_codes
from certs.queries.lineage import codes_in, lineage_of
from certs.queries.site_reports import reports_at
from certs.queries.story_events import events_of
from certs.queries.trace_back_shapes import RopeBack
from certs.queries.trace_shapes import BreakingRow, Story
from inventory.documents.lineage_chart import draw_lineage
from inventory.documents.lineage_rail import draw_lineage_rail
from inventory.documents.lineage_table import lineage_table
from inventory.documents.lineage_walk import Folding
from inventory.documents.svg import Drawing, drawn_width
from inventory.pages.drawing_tables import table_of_lineage
from inventory.pages.facts import Fact
from inventory.pages.table import Table

_ROOM = _FITS = 1370
"""What the frame on a wide screen holds, in px; a wider genealogy scrolls and is not shrunk."""

_SIBLINGS = 12
Part = tuple[str, str, Table]


@dataclass(frozen=True, slots=True)
class Genealogy:
    """The genealogy drawn for a wide and a narrow screen; one that is very wide scrolls."""

    wide: Drawing
    narrow: Drawing
    table: Table
    fits: bool


@dataclass(frozen=True, slots=True)
class Around:
    """A stretch of a reel that rope of the thing lay on, and where what lay beside it is told."""

    reel: str
    from_mm: int
    to_mm: int

    @property
    def middle_m(self) -> str:
        """The middle of the stretch, in metres, as it is typed."""
        return f"{(self.from_mm + self.to_mm) // 2 / 1000:.3f}"


@dataclass(frozen=True, slots=True)
class StoryTold:
    """A story as drawings and tables; a part without rows is left out."""

    story: Story
    on: date | None
    href: str
    now: Sequence[Fact]
    genealogy: Genealogy
    maps: Sequence[ReelFigure]
    days: Sequence[Day]
    people: Table
    curves: Sequence[SmallCurve]
    back: Sequence[tuple[RopeBack, Table, Table, Table]]
    around: Sequence[Around]
    lots: Table
    pieces: Table
    tests: Sequence[Part]
    papers: Sequence[Part]
    went: Sequence[Part]

    @property
    def past_days(self) -> list[Day]:
        """The days as of whose end the story can be told, the last one first."""
        return [day for day in reversed(self.days) if day.as_known]


def told(story: Story, *, on: date | None, today: date, reads_reports: bool) -> StoryTold:
    """Lay out a story, as of the end of a past day or as known now."""
    until = end_of(on) if on else None
    held = {hold["subject"] for hold in story["holds"]}
    # What a hold of an earlier day reached beyond its own subject is not drawn.
    held |= set() if on else held_codes(codes_in(story))
    tags = {tag["code"] for tag in story["tags"]}
    reports = reports_at(tags, until=until) if reads_reports else []
    events = events_of(story, until=until, reads_reports=reads_reports)
    code = story["asked"]["code"]
    return StoryTold(
        story=story,
        on=on,
        href=page_of(code),
        now=facts_now(story, reports=reports),
        genealogy=_genealogy(story, held=held),
        # A map shows a reel as it is now.
        maps=[] if on else figures_of(story),
        days=days_told(events, code=code, today=today),
        people=people_told(events),
        curves=curves_of(story),
        back=[_back(rope) for rope in story["back"]],
        around=_around(story),
        lots=story_tables.lots([*story["fitting_lots"], *story["made_lots"]]),
        pieces=story_tables.pieces(story["pieces"], held=held),
        tests=_filled(_tests(story)),
        papers=_filled(_papers(story, reports)),
        went=_filled(_went(story)),
    )


def _genealogy(story: Story, *, held: set[str]) -> Genealogy:
    nodes, edges = lineage_of(story, held=held, href=story_page)
    folding = Folding(_SIBLINGS, "#genealogy-table")
    wide = draw_lineage(nodes=nodes, edges=edges, folding=folding, room=_ROOM)
    return Genealogy(
        wide=wide,
        narrow=draw_lineage_rail(nodes=nodes, edges=edges, folding=folding),
        table=table_of_lineage(lineage_table(nodes=nodes, edges=edges)),
        fits=drawn_width(wide) <= _FITS,
    )


def _back(rope: RopeBack) -> tuple[RopeBack, Table, Table, Table]:
    return (
        rope,
        story_tables.reels_back(rope["reels"]),
        story_tables.heats_back(rope["heats"]),
        story_tables.documents_back(rope["mill_documents"]),
    )


def _around(story: Story) -> list[Around]:
    """Give of each length of rope where it lay on the mill's own reel; none of a whole reel."""
    if story["asked"]["kind"] == "reel":
        return []
    mill_reels = [rope["reels"][-1] for rope in story["back"]]
    return [Around(reel["code"], reel["from_mm"], reel["to_mm"]) for reel in mill_reels]


def _tests(story: Story) -> list[Part]:
    return [
        ("proof", "Proof-load tests", claim_tables.proof(story["proof_tests"])),
        ("rope-tests", "Breaking-force tests", claim_tables.breaking(_all_breaking(story))),
        ("wires", "Wire tests", table_of_wire_rows(story["wire_tests"])),
    ]


def _papers(story: Story, reports: Sequence[SiteReport]) -> list[Part]:
    return [
        ("certificates", "Certificates", claim_tables.certificates(story["certificates"])),
        ("tags", "Tags", claim_tables.tags(story["tags"])),
        ("reports", "Reports from site", table_of_reports(reports)),
    ]


def _went(story: Story) -> list[Part]:
    point = story["point"]
    return [
        ("around", "Cut around that point", story_tables.beside(point["around"] if point else [])),
        ("deliveries", "Deliveries", story_tables.deliveries(story["deliveries"])),
        ("customers", "Customers", claim_tables.customers(story["customers"])),
    ]


def _filled(parts: Sequence[Part]) -> list[Part]:
    return [part for part in parts if part[2].rows]


def _all_breaking(story: Story) -> list[BreakingRow]:
    found = {row["code"]: row for row in (*story["rope_tests"], *story["breaking_tests"])}
    return list(found.values())
