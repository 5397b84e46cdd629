"""Proposes which reels to cut for an order, and in which order to cut them.

Plans are compared by these aims, the first that differs deciding:

1. the least length of the order that stays uncut;
2. the least unusable remnant, that is metres left in stretches below the shortest usable length;
3. the fewest reels opened;
4. the oldest reels (not proved: it decides between plans that are equal, as far as it was looked).

Pieces are cut at their nominal length, one after the other from the end of a stretch that comes
off first, the longest first: if one is spoilt, a short one is easier found elsewhere. Tolerances
are not used up to make a plan fit. Stock of last resort is looked at only if the rest cannot serve
a rope's lines. All of this is common practice, no source.
"""

from collections.abc import Iterable, Iterator, Sequence

from inventory.rules.cutting_exact import MOST_CHOICES, Proved, bounded, choices, proved
from inventory.rules.cutting_job import Job, Layout, job_of
from inventory.rules.cutting_search import good_layout
from inventory.rules.cutting_terms import (
    CutDemand,
    CuttingPlan,
    FreeStretch,
    PlannedCut,
    PlanScore,
    Remnant,
    UnmetDemand,
)
from inventory.rules.cutting_unmet import why_unmet
from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal


def propose_cuts(
    demands: Sequence[CutDemand], stock: Iterable[FreeStretch], *, shortest_usable_mm: int
) -> CuttingPlan:
    """Return the best plan found, with what is proved of it.

    Args:
        demands: lines with something still to be cut, each named once.
        stock: stretches that are free and not under hold, in any order; they share no metres.
        shortest_usable_mm: a remnant shorter than this is of no use; 0: every remnant is of use.

    Raises:
        Refusal: the shortest usable length is below nothing.
    """
    if shortest_usable_mm < 0:
        message = "The shortest usable length cannot be less than nothing; 0 means any is of use."
        raise Refusal(message, field="shortest_usable_mm")
    oldest_first = sorted(stock, key=lambda part: (part.received, part.reel, part.stretch))
    plans = [
        _plan_of_rope(rope, demands, oldest_first, shortest_usable_mm=shortest_usable_mm)
        for rope in dict.fromkeys(demand.designation for demand in demands)
    ]
    return CuttingPlan(
        cuts=tuple(cut for plan in plans for cut in plan.cuts),
        remnants=tuple(left for plan in plans for left in plan.remnants),
        unmet=tuple(unmet for plan in plans for unmet in plan.unmet),
        score=_sum(plan.score for plan in plans),
        bound=_sum(plan.bound for plan in plans),
        is_proved_best=all(plan.is_proved_best for plan in plans),
        shortest_usable_mm=shortest_usable_mm,
    )


def _plan_of_rope(
    rope: str,
    demands: Sequence[CutDemand],
    stock: Sequence[FreeStretch],
    *,
    shortest_usable_mm: int,
) -> CuttingPlan:
    asked = [demand for demand in demands if demand.designation == rope]
    all_of_it = [part for part in stock if part.designation == rope]
    preferred = [part for part in all_of_it if not part.is_last_resort]
    plan = _plan(asked, preferred, shortest_usable_mm=shortest_usable_mm)
    if plan.unmet and len(preferred) < len(all_of_it):
        return _plan(asked, all_of_it, shortest_usable_mm=shortest_usable_mm)
    return plan


def _plan(
    demands: Sequence[CutDemand], stock: Sequence[FreeStretch], *, shortest_usable_mm: int
) -> CuttingPlan:
    job = job_of(demands, stock, shortest_usable_mm=shortest_usable_mm)
    best = _best(job)
    layout = best.layout
    unmet, unusable, reels, _ = layout.score()
    return CuttingPlan(
        cuts=tuple(_cuts(layout, demands, stock)),
        remnants=tuple(_remnants(layout, stock)),
        unmet=tuple(_unmet(layout, demands, stock)),
        score=PlanScore(unmet * job.unit_mm, unusable * job.unit_mm, reels),
        bound=PlanScore(best.bound[0] * job.unit_mm, best.bound[1] * job.unit_mm, best.bound[2]),
        is_proved_best=best.is_best,
        shortest_usable_mm=shortest_usable_mm,
    )


def _best(job: Job) -> Proved:
    found = good_layout(job)
    if 0 < choices(job) <= MOST_CHOICES:
        return proved(found)
    return bounded(found)


def _cuts(
    layout: Layout, demands: Sequence[CutDemand], stock: Sequence[FreeStretch]
) -> Iterator[PlannedCut]:
    for slot, placed in enumerate(layout.pieces):
        at_mm = stock[slot].stretch.from_mm
        for want, length in sorted(placed, key=lambda piece: (-piece[1], piece[0])):
            to_mm = at_mm + length * layout.job.unit_mm
            yield PlannedCut(demands[want].line, stock[slot].reel, Stretch(at_mm, to_mm))
            at_mm = to_mm


def _remnants(layout: Layout, stock: Sequence[FreeStretch]) -> Iterator[Remnant]:
    for slot, placed in enumerate(layout.pieces):
        left = layout.left[slot]
        if placed and left:
            whole = stock[slot].stretch
            end = Stretch(whole.to_mm - left * layout.job.unit_mm, whole.to_mm)
            yield Remnant(stock[slot].reel, end, is_usable=not layout.job.unusable(left))


def _unmet(
    layout: Layout, demands: Sequence[CutDemand], stock: Sequence[FreeStretch]
) -> Iterator[UnmetDemand]:
    for demand, missing in zip(demands, layout.missing, strict=True):
        if missing:
            missing_mm = missing * layout.job.unit_mm
            pieces = missing_mm // demand.length_mm if demand.is_one_length else 0
            yield UnmetDemand(demand.line, missing_mm, pieces, why_unmet(demand, stock))


def _sum(scores: Iterable[PlanScore]) -> PlanScore:
    unmet_mm = unusable_mm = reels = 0
    for score in scores:
        unmet_mm += score.unmet_mm
        unusable_mm += score.unusable_mm
        reels += score.reels
    return PlanScore(unmet_mm, unusable_mm, reels)
