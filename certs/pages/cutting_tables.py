"""Decides how cuts that are not made yet are told: by reel, what they leave, and as drawings."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from inventory.documents.reel_map import draw_reel_map
from inventory.documents.reel_map_table import reel_map_table
from inventory.documents.reel_stretches import MapKind, MapStretch
from inventory.documents.svg import Drawing
from inventory.models import Reel
from inventory.pages.drawing_tables import table_of_reel_map
from inventory.pages.links import piece_href, reel_href
from inventory.pages.reading import shown_metres
from inventory.pages.table import Cell, Column, Line, Table, build_table
from inventory.queries.reel_map import reel_map
from inventory.queries.stretches import without
from inventory.rules.cutting_terms import CutDemand, FreeStretch, PlannedCut, UnmetDemand
from inventory.rules.metres import Stretch

MOST_DRAWN = 12


@dataclass(frozen=True, slots=True)
class ReelDrawing:
    """The map of a reel with the cuts proposed on it, and the same as a table."""

    code: str
    drawing: Drawing
    table: Table


def line_word(line: str) -> str:
    """Return how a line of the order is called on its own page: "line 2"."""
    return f"line {line.rpartition('.')[2]}"


def table_of_reels(
    cuts: Sequence[PlannedCut],
    *,
    stock: Sequence[FreeStretch],
    words: Mapping[str, str],
    shortest_mm: int,
) -> Table:
    """Return one row for each reel that is cut from."""
    return build_table(
        columns=(
            "Reel",
            "Cuts, in their order",
            Column("Cut in all", is_number=True),
            "What the cuts leave",
        ),
        lines=(
            Line(
                (
                    Cell(code, href=reel_href(code), note=words.get(code, "")),
                    _told(cuts, code),
                    shown_metres(sum(c.stretch.length_mm for c in cuts if c.reel == code)),
                    _left(remnants(cuts, stock, reel=code), shortest_mm=shortest_mm),
                )
            )
            for code in dict.fromkeys(cut.reel for cut in cuts)
        ),
        folds=True,
    )


def remnants(
    cuts: Sequence[PlannedCut], stock: Sequence[FreeStretch], *, reel: str
) -> list[Stretch]:
    """Return what is left of the stretches of a reel that are cut from."""
    of_reel = [cut.stretch for cut in cuts if cut.reel == reel]
    offered = [part.stretch for part in stock if part.reel == reel]
    touched = [part for part in offered if any(part.overlaps(cut) for cut in of_reel)]
    return without(touched, of_reel)


def unusable_mm(
    cuts: Sequence[PlannedCut], stock: Sequence[FreeStretch], *, shortest_mm: int
) -> int:
    """Return the length of the unusable remnants that cuts leave."""
    return sum(
        left.length_mm
        for reel in {cut.reel for cut in cuts}
        for left in remnants(cuts, stock, reel=reel)
        if left.length_mm < shortest_mm
    )


def table_of_unmet(unmet: Sequence[UnmetDemand]) -> Table:
    """Return what a proposal does not cut, and why."""
    return build_table(
        columns=("Line", Column("Not cut", is_number=True), "Why"),
        lines=(Line((line_word(one.line), _missing(one), one.reason)) for one in unmet),
        folds=True,
    )


def missing_words(missing: Mapping[str, int], demands: Sequence[CutDemand]) -> list[str]:
    """Say what of the order is in none of the cuts."""
    return [
        f"Of {line_word(demand.line)}, {shown_metres(missing[demand.line])} stays uncut."
        for demand in demands
        if missing[demand.line]
    ]


def reel_drawings(reels: Sequence[Reel], cuts: Sequence[PlannedCut]) -> Iterator[ReelDrawing]:
    """Yield the maps of reels with the cuts lit."""
    for reel in reels:
        found = reel_map(reel, href=piece_href)
        gone = [part for part in found.stretches if part.kind is not MapKind.FREE]
        stretches = [*gone, *_fitting(reel, cuts, gone)]
        yield ReelDrawing(
            code=reel.code,
            drawing=draw_reel_map(
                length_mm=reel.length_mm,
                stretches=stretches,
                heats=found.heats,
                title=f"Reel {reel.code} with the pieces proposed",
                prefix=f"map-{reel.code}",
            ),
            table=table_of_reel_map(
                reel_map_table(length_mm=reel.length_mm, stretches=stretches, heats=found.heats)
            ),
        )


def _fitting(
    reel: Reel, cuts: Sequence[PlannedCut], gone: Sequence[MapStretch]
) -> list[MapStretch]:
    """Return the pieces that can be drawn: those that share no metre with anything else."""
    taken = [Stretch(part.from_mm, part.to_mm) for part in gone]
    drawn = []
    for cut in cuts:
        is_inside = cut.reel == reel.code and cut.stretch.to_mm <= reel.length_mm
        if is_inside and not any(cut.stretch.overlaps(other) for other in taken):
            taken.append(cut.stretch)
            ends = (cut.stretch.from_mm, cut.stretch.to_mm)
            drawn.append(MapStretch(*ends, MapKind.FREE, line_word(cut.line), is_lit=True))
    return drawn


def _told(cuts: Sequence[PlannedCut], code: str) -> str:
    """Write the pieces of a reel, runs of the same length of a line as one."""
    runs: list[tuple[str, int]] = []
    for cut in cuts:
        if cut.reel == code:
            words = f"{shown_metres(cut.stretch.length_mm)} for {line_word(cut.line)}"
            if runs and runs[-1][0] == words:
                runs[-1] = (words, runs[-1][1] + 1)
            else:
                runs.append((words, 1))
    return "; ".join(words if count == 1 else f"{count} × {words}" for words, count in runs)


def _left(left: Sequence[Stretch], *, shortest_mm: int) -> str | Cell:
    if not left:
        return "nothing"
    words = "; ".join(shown_metres(part.length_mm) for part in left)
    scrap = [part for part in left if part.length_mm < shortest_mm]
    return Cell(words, note="of which too short to be of use: " + _sum(scrap) if scrap else "")


def _sum(parts: Sequence[Stretch]) -> str:
    return shown_metres(sum(part.length_mm for part in parts))


def _missing(one: UnmetDemand) -> str:
    missing = shown_metres(one.missing_mm)
    if not one.pieces:
        return missing
    return f"{one.pieces} {'piece' if one.pieces == 1 else 'pieces'}, {missing}"
