"""Says in words why a line of an order cannot be cut, or not all of it, from the stock offered."""

from collections.abc import Iterable, Mapping, Sequence
from typing import TypeVar

from inventory.rules.cutting_terms import CutDemand, FreeStretch, Together
from inventory.rules.metres import Stretch
from inventory.rules.units import format_metres

KeyT = TypeVar("KeyT")


def why_unmet(demand: CutDemand, stock: Sequence[FreeStretch]) -> str:
    """Return the nearest reason; `stock` is what of the rope was offered."""
    if not stock:
        return f"Nothing of {demand.designation} is free, clear of holds and offered for this plan."
    longest = max(stock, key=lambda part: part.stretch.length_mm)
    if demand.is_one_length and longest.stretch.length_mm < demand.length_mm:
        return (
            f"No reel gives {format_metres(demand.length_mm)} in one length; the longest is"
            f" {format_metres(longest.stretch.length_mm)}, on reel {longest.reel}."
        )
    if demand.together is Together.ONE_REEL:
        return _one_reel(demand, stock)
    if demand.together is Together.ONE_HEAT:
        return _one_heat(demand, stock)
    if _alone(demand, [part.stretch for part in stock]) < demand.total_mm:
        return "The stock offered is not enough for this line."
    return "The stock offered is not enough for all lines together."


def _one_reel(demand: CutDemand, stock: Sequence[FreeStretch]) -> str:
    by_reel: dict[str, list[Stretch]] = {}
    for part in stock:
        if demand.bound_reel in {"", part.reel}:
            by_reel.setdefault(part.reel, []).append(part.stretch)
    if not by_reel:
        return (
            f"All is to come from one reel, and earlier pieces came from {demand.bound_reel},"
            " of which nothing is offered."
        )
    reel, most_mm = _best_of(demand, by_reel)
    if most_mm >= demand.total_mm:
        return _TAKEN
    so_far = ", from which earlier pieces came" if demand.bound_reel else ""
    return (
        "All is to come from one reel, so none is proposed: the most that one can give is"
        f" {_amount(demand, most_mm)}, from {reel}{so_far}."
    )


def _one_heat(demand: CutDemand, stock: Sequence[FreeStretch]) -> str:
    by_heats: dict[frozenset[int], list[Stretch]] = {}
    for part in stock:
        if part.heats and demand.bound_heats in {None, part.heats}:
            by_heats.setdefault(part.heats, []).append(part.stretch)
    if not by_heats:
        whose = (
            "those of the earlier pieces"
            if demand.bound_heats is not None
            else "known and do not change"
        )
        return (
            "All is to be of the same heats, and there is no stretch whose heats are"
            f" {whose} along it."
        )
    _, most_mm = _best_of(demand, by_heats)
    if most_mm >= demand.total_mm:
        return _TAKEN
    return (
        "All is to be of the same heats, so none is proposed: the most of the same heats is"
        f" {_amount(demand, most_mm)}."
    )


_TAKEN = "What could give it is better used for the other lines; cut this line by itself first."


def _best_of(demand: CutDemand, groups: Mapping[KeyT, Iterable[Stretch]]) -> tuple[KeyT, int]:
    best = max(groups, key=lambda group: _alone(demand, groups[group]))
    return best, _alone(demand, groups[best])


def _alone(demand: CutDemand, stretches: Iterable[Stretch]) -> int:
    """Return the most of the line that stretches can give if nothing else is cut from them."""
    if not demand.is_one_length:
        return sum(part.length_mm for part in stretches)
    return demand.length_mm * sum(part.length_mm // demand.length_mm for part in stretches)


def _amount(demand: CutDemand, amount_mm: int) -> str:
    if not demand.is_one_length:
        return format_metres(amount_mm)
    pieces = amount_mm // demand.length_mm
    return f"{pieces} of {demand.quantity} × {format_metres(demand.length_mm)}"
