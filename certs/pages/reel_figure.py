"""Decides which reels of a story are drawn, with the metres asked about lit.

Each is drawn twice, for a wide and for a narrow screen; the style shows the one that fits.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from certs.pages.addresses import story_of
from certs.queries.trace_shapes import Story
from inventory.documents.reel_map import draw_reel_map
from inventory.documents.reel_map_table import reel_map_table
from inventory.documents.svg import Drawing
from inventory.models import Reel
from inventory.pages.drawing_tables import table_of_reel_map
from inventory.pages.table import Table
from inventory.queries.reel_map import ReelMap, reel_map
from inventory.queries.things import reel_of_code

_MOST_REELS = 4
_WIDE, _NARROW = 1180, 360


@dataclass(frozen=True, slots=True)
class ReelFigure:
    """The map of one reel and the same as a table; `key` is unique on the page."""

    key: str
    code: str
    caption: str
    drawing: Drawing
    narrow: Drawing
    table: Table


def figures_of(story: Story) -> list[ReelFigure]:
    """Draw the reels that the pieces were cut from, or the reel asked about; four at most."""
    lit: dict[str, set[str]] = {}
    for code, piece in _cut_from(story):
        lit.setdefault(code, set()).update({piece} if piece else ())
    if story["asked"]["to_mm"] is not None:
        lit[story["asked"]["code"]] = {row["code"] for row in story["pieces"]}
    reels = [(reel_of_code(code), pieces) for code, pieces in list(lit.items())[:_MOST_REELS]]
    return [figure_of_reel(reel, lit=pieces) for reel, pieces in reels if reel is not None]


def figure_of_reel(reel: Reel, *, lit: Collection[str]) -> ReelFigure:
    """Draw a reel with these pieces lit."""
    drawn = reel_map(reel, lit=lit, href=story_of)
    title = f"Reel {reel.code}: every metre and where it went"
    key = f"map-{reel.code}"
    rows = reel_map_table(length_mm=reel.length_mm, stretches=drawn.stretches, heats=drawn.heats)
    return ReelFigure(
        key=key,
        code=reel.code,
        caption=title,
        drawing=_drawn(reel, drawn, title=title, width=_WIDE, prefix=key),
        narrow=_drawn(reel, drawn, title=title, width=_NARROW, prefix=f"{key}-narrow"),
        table=table_of_reel_map(rows),
    )


def _cut_from(story: Story) -> Iterator[tuple[str, str]]:
    """Yield each reel that rope of the thing was cut from, with the piece."""
    for rope in story["back"]:
        yield rope["reels"][0]["code"], rope["piece"]


def _drawn(reel: Reel, drawn: ReelMap, *, title: str, width: int, prefix: str) -> Drawing:
    return draw_reel_map(
        length_mm=reel.length_mm,
        stretches=drawn.stretches,
        heats=drawn.heats,
        width=width,
        title=title,
        prefix=prefix,
    )
