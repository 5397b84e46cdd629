"""Which reels may serve an order, those last from which nothing could be certified.

Stretches that are free and not under hold come from the physical record; a reel whose check on
receipt disagrees is on hold and not among them. What is certified rests on a basis of strength: a
reel for which none is named can be cut, but until one is named no paper can state its force.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace

from certs.models import StrengthBasis
from inventory.models import Order, Reel
from inventory.queries.cutting_stock import demands_of, stock_for
from inventory.queries.genealogy_sql import rows, up
from inventory.queries.seeds import up_from_reels
from inventory.rules.cutting_terms import CutDemand, FreeStretch

NO_BASIS = "offered last: no basis of strength is named for it, so no force can be certified yet"


@dataclass(frozen=True, slots=True)
class CuttingOffer:
    """What of an order is still to be cut and the stock for it; `words` says why a reel is last."""

    demands: tuple[CutDemand, ...]
    stock: tuple[FreeStretch, ...]
    words: Mapping[str, str]


def cutting_offer(order: Order, *, without: Collection[str] = ()) -> CuttingOffer:
    """Return what may be planned for an order; reels of the codes in `without` are left out."""
    demands = demands_of(order)
    ropes = {demand.designation for demand in demands}
    stock = [part for part in stock_for(ropes) if part.reel not in without]
    last = _without_basis({part.reel for part in stock})
    return CuttingOffer(
        demands=tuple(demands),
        stock=tuple(replace(part, is_last_resort=part.reel in last) for part in stock),
        words=dict.fromkeys(sorted(last), NO_BASIS),
    )


def _without_basis(codes: Iterable[str]) -> set[str]:
    """Return the codes of reels without a basis, their own or one of a reel they came from."""
    by_id = dict(Reel.objects.filter(code__in=set(codes)).values_list("id", "code"))
    if not by_id:
        return set()
    lineage = rows(up(up_from_reels(by_id)).then("SELECT up.key, up.reel_id FROM up"))
    ancestors = {reel_id for _, reel_id in lineage}
    named = set(StrengthBasis.objects.filter(reel__in=ancestors).values_list("reel_id", flat=True))
    with_basis = {key for key, reel_id in lineage if reel_id in named}
    return {code for reel_id, code in by_id.items() if reel_id not in with_basis}
