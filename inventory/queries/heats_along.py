"""Which heats are in every metre of many reels at once, in the reels' own metres.

For one reel or piece with its documents see `inventory.queries.trace_back`.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from inventory.models import ReelHeat
from inventory.queries.genealogy_sql import rows, up
from inventory.queries.seeds import up_from_reels
from inventory.queries.stretches import joined
from inventory.rules.metres import Affine, Stretch

HeatsByReel = Mapping[int, Mapping[int, Sequence[Stretch]]]


def heats_along(reel_ids: Iterable[int]) -> HeatsByReel:
    """Return for each reel, by id, its heats, by id, each with the metres that hold it.

    Two queries, however many reels and rewinds there are.
    """
    ids = tuple(reel_ids)
    if not ids:
        return {}
    walk = rows(up(up_from_reels(ids)).then(_METRES))
    ties = defaultdict(list)
    for tie in ReelHeat.objects.filter(reel_id__in={row[1] for row in walk}).order_by("id"):
        ties[tie.reel_id].append(tie)
    found: dict[int, dict[int, list[Stretch]]] = {reel_id: {} for reel_id in ids}
    for asked_id, reel_id, from_mm, to_mm, sign, offset_mm in walk:
        # x = sign * (metre - offset) turns the map of `up` round.
        to_asked = Affine(sign, -sign * offset_mm)
        for tie in ties[reel_id]:
            part = _part(tie, Stretch(from_mm, to_mm))
            if part is not None:
                parts = found[asked_id].setdefault(tie.heat_id, [])
                parts.append(to_asked.stretch_at(part))
    return found


def heats_of_all(heats: Mapping[int, Sequence[Stretch]], stretch: Stretch) -> frozenset[int] | None:
    """Return the heats that every metre of a stretch holds; None if they change or are unknown."""
    inside = {
        heat: joined(part for part in (p.clip(stretch) for p in parts) if part is not None)
        for heat, parts in heats.items()
    }
    touching = {heat: parts for heat, parts in inside.items() if parts}
    if not touching or any(parts != [stretch] for parts in touching.values()):
        return None
    return frozenset(touching)


def _part(tie: ReelHeat, asked: Stretch) -> Stretch | None:
    """Return what of the asked metres holds the heat; a tie without a stretch is to them all."""
    if tie.from_mm is None or tie.to_mm is None:
        return asked
    return asked.clip(Stretch(tie.from_mm, tie.to_mm))


_METRES = """
    SELECT up.key, up.reel_id, up.from_mm, up.to_mm, up.sign, up.offset_mm
    FROM up ORDER BY up.key, up.depth"""
