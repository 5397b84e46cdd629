"""Decides how the story of a thing is found and told: drawn, and the same in tables."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from certs.pages import claim_tables, story_tables
from certs.pages.acting import may_do
from certs.pages.addresses import page_of
from certs.pages.addresses import story_of as story_page
from certs.pages.forms.find import TraceForm
from certs.pages.reel_figure import ReelFigure, figures_of
from certs.pages.rendering import show
from certs.pages.site_reports_table import table_of_reports
from certs.pages.wire_tables import table_of_wire_rows
from certs.queries.as_known import end_of, trace_on
from certs.queries.bundle_rows import reports_of
from certs.queries.held_codes import held_codes
from certs.queries.lineage import codes_in, lineage_of
from certs.queries.trace_back_shapes import RopeBack
from certs.queries.trace_find import CannotTrace
from certs.queries.trace_shapes import BreakingRow, Story
from certs.rules.roles import ClaimAct
from inventory.documents.lineage_chart import draw_lineage
from inventory.documents.lineage_table import lineage_table
from inventory.documents.svg import Drawing
from inventory.pages.acting import signed_in
from inventory.pages.drawing_tables import table_of_lineage
from inventory.pages.table import Table
from inventory.queries.find import heats_of_number
from inventory.rules.refusal import Refusal


@dataclass(frozen=True, slots=True)
class Choice:
    """One of several things that were meant, perhaps."""

    code: str
    text: str
    href: str


@dataclass(frozen=True, slots=True)
class StoryTold:
    """A story as drawings and tables."""

    story: Story
    on: date | None
    href: str
    drawing: Drawing
    lineage: Table
    maps: Sequence[ReelFigure]
    back: Sequence[tuple[RopeBack, Table, Table, Table]]
    lots: Table
    pieces: Table
    parts: list[tuple[str, str, Table]]


@signed_in
def trace(request: HttpRequest) -> HttpResponse:
    """The story of whatever the code stands for."""
    form = TraceForm(request.GET) if "code" in request.GET else TraceForm()
    told: StoryTold | None = None
    choices: list[Choice] = []
    if form.is_bound and form.is_valid():
        told, choices = _found(form)
    if told is not None and may_do(request, ClaimAct.READ_REPORTS):
        told.parts.extend(_reports(told))
    return show(
        request,
        "certs/trace.html",
        area="trace",
        form=form,
        told=told,
        choices=choices,
        may_take_bundle=may_do(request, ClaimAct.TAKE_BUNDLE),
    )


def _found(form: TraceForm) -> tuple[StoryTold | None, list[Choice]]:
    """Find the story; several things of that name are given as choices, none as an error."""
    code, asked = form.cleaned_data["code"], {**form.cleaned_data}
    asked.pop("code")
    heats = heats_of_number(code)
    try:
        found = heats[0].code if len(heats) == 1 else code
        story = trace_on(found, **asked, today=timezone.localdate())
        return _told(story, on=asked["on"]), []
    except CannotTrace as refusal:
        choices = [Choice(one, "", story_page(one)) for one in refusal.choices]
        choices += [Choice(heat.code, str(heat.mill), story_page(heat.code)) for heat in heats]
        if not choices:
            form.add_error("code", refusal.message)
        return None, choices
    except Refusal as refusal:
        form.add_error("on" if refusal.field == "on" else "at_mm", refusal.message)
        return None, []


def _told(story: Story, *, on: date | None) -> StoryTold:
    held = {hold["subject"] for hold in story["holds"]}
    # What a hold of an earlier day reached beyond its own subject is not drawn.
    held |= set() if on else held_codes(codes_in(story))
    nodes, edges = lineage_of(story, held=held, href=story_page)
    return StoryTold(
        story=story,
        on=on,
        href=page_of(story["asked"]["code"]),
        drawing=draw_lineage(nodes=nodes, edges=edges),
        lineage=table_of_lineage(lineage_table(nodes=nodes, edges=edges)),
        # A map shows a reel as it is now.
        maps=[] if on else figures_of(story),
        back=[_back(rope) for rope in story["back"]],
        lots=story_tables.lots([*story["fitting_lots"], *story["made_lots"]]),
        pieces=story_tables.pieces(story["pieces"], held=held),
        parts=_parts(story),
    )


def _back(rope: RopeBack) -> tuple[RopeBack, Table, Table, Table]:
    return (
        rope,
        story_tables.reels_back(rope["reels"]),
        story_tables.heats_back(rope["heats"]),
        story_tables.documents_back(rope["mill_documents"]),
    )


def _parts(story: Story) -> list[tuple[str, str, Table]]:
    """Give the further tables: key, title, table; an empty one is left out."""
    point = story["point"]
    parts = [
        ("around", "Cut around that point", story_tables.beside(point["around"] if point else [])),
        ("rope-tests", "Breaking-force tests", claim_tables.breaking(_all_breaking(story))),
        ("wires", "Wire tests", table_of_wire_rows(story["wire_tests"])),
        ("proof", "Proof-load tests", claim_tables.proof(story["proof_tests"])),
        ("papers", "Certificates", claim_tables.certificates(story["certificates"])),
        ("deliveries", "Deliveries", story_tables.deliveries(story["deliveries"])),
        ("customers", "Customers", claim_tables.customers(story["customers"])),
        ("tags", "Tags", claim_tables.tags(story["tags"])),
    ]
    return [part for part in parts if part[2].rows]


def _reports(told: StoryTold) -> list[tuple[str, str, Table]]:
    """Give what was reported at its tags, for those who read reports."""
    found = reports_of(told.story, until=end_of(told.on) if told.on else None)
    return [("reports", "Reports from site", table_of_reports(found))] if found else []


def _all_breaking(story: Story) -> list[BreakingRow]:
    found = {row["code"]: row for row in (*story["rope_tests"], *story["breaking_tests"])}
    return list(found.values())
