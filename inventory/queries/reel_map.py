"""What the drawing of a reel is told: where each of its metres went, and the heats in them."""

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

from django.db.models import Exists, OuterRef

from inventory.documents.reel_stretches import MapHeat, MapKind, MapStretch
from inventory.models import CutPiece, Hold, Reel
from inventory.queries.holds import held_stretches
from inventory.queries.stretches import without
from inventory.queries.trace_back import RopeTrace, back_from_reel
from inventory.rules.metres import Stretch, free_stretches


@dataclass(frozen=True, slots=True)
class ReelMap:
    """Every metre of a reel, in order, and its heats in the reel's own metres."""

    stretches: tuple[MapStretch, ...]
    heats: tuple[MapHeat, ...]


def reel_map(
    reel: Reel,
    *,
    lit: Collection[str] = (),
    href: Callable[[str], str] | None = None,
) -> ReelMap:
    """Return the map of a reel, in a fixed number of queries.

    Args:
        reel: the reel to draw.
        lit: codes of the pieces that the reader is looking at.
        href: gives the address of a piece's page from its code.

    """
    held = held_stretches(reel)
    cuts = _cuts(reel)
    free = free_stretches(reel.length_mm, [cut.metres for cut in cuts])
    clear = without(free, held)
    stretches = [
        *(_gone(cut, held=held, lit=lit, href=href) for cut in cuts),
        *(MapStretch(part.from_mm, part.to_mm, MapKind.FREE, "") for part in clear),
        *(MapStretch(p.from_mm, p.to_mm, MapKind.HELD, "") for p in without(free, clear)),
    ]
    return ReelMap(
        stretches=tuple(sorted(stretches, key=lambda stretch: stretch.from_mm)),
        heats=tuple(_heats(back_from_reel(reel))),
    )


class _Cut(NamedTuple):
    code: str
    purpose: str
    from_mm: int
    to_mm: int
    is_held: bool

    @property
    def metres(self) -> Stretch:
        return Stretch(self.from_mm, self.to_mm)


def _cuts(reel: Reel) -> list[_Cut]:
    held = Exists(Hold.objects.filter(piece=OuterRef("pk"), released_at=None))
    cuts = CutPiece.objects.filter(reel=reel, is_reversed=False).annotate(is_held=held)
    return [_Cut(*cut) for cut in cuts.values_list(*_Cut._fields).order_by("from_mm")]


def _gone(
    cut: _Cut,
    *,
    held: Iterable[Stretch],
    lit: Collection[str],
    href: Callable[[str], str] | None,
) -> MapStretch:
    return MapStretch(
        from_mm=cut.from_mm,
        to_mm=cut.to_mm,
        kind=MapKind(cut.purpose),
        label=cut.code,
        href="" if href is None else href(cut.code),
        is_lit=cut.code in lit,
        is_held=cut.is_held or any(part.overlaps(cut.metres) for part in held),
    )


def _heats(trace: RopeTrace) -> Iterator[MapHeat]:
    """Yield the heats in the asked reel's metres, on whatever reel they are tied."""
    on_reel = {ancestor.reel_code: ancestor for ancestor in trace.ancestors}
    for found in trace.heats:
        part = on_reel[found.reel_code].on_asked(Stretch(found.from_mm, found.to_mm))
        yield MapHeat(part.from_mm, part.to_mm, found.heat.number)
