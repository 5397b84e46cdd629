"""Reads out of a frozen paper what it states of strength, and what a weaker rope leaves of it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Any

from certs.rules.derived import plain, trimmed, with_unit
from certs.rules.lowered_rating import FrozenRating, lowered_rating

Snapshot = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Overstated:
    """A strength that a paper states above what the record supports, both with their unit.

    `supported` is empty where it cannot be worked out from the paper: rate the thing again.
    """

    quantity: str
    stated: str
    supported: str


def overstated_in(snapshot: Snapshot, lowered_kn: Mapping[str, Decimal]) -> Iterator[Overstated]:
    """Give what a paper states above what its ropes hold.

    `lowered_kn` is the force in kN to which each reel's rope fell, by the reel's code.
    """
    for rope in snapshot["ropes"]:
        force_kn = lowered_kn.get(rope["reel"])
        if force_kn is not None and Decimal(rope["force"]["stated"]) > force_kn:
            unit = rope["force"]["unit"]
            yield Overstated(
                quantity=f"minimum breaking force of the rope of reel {rope['reel']}",
                stated=with_unit(rope["force"]["stated"], unit),
                supported=with_unit(trimmed(force_kn), unit),
            )
    if snapshot["assembly"]:
        weak = list(_weak_ends(snapshot, lowered_kn))
        for rating in snapshot["assembly"]["ratings"]:
            yield from _rating(rating, weak)
        mark = marked_in(snapshot)
        if mark:
            yield from _mark(mark, snapshot["assembly"]["ratings"][0], weak)


def marked_in(snapshot: Snapshot) -> Mapping[str, Any] | None:
    """Give the load marked on the assembly of a paper; None where the paper names none."""
    assembly = snapshot["assembly"]
    marked: Mapping[str, Any] | None = assembly.get("marked") if assembly else None
    return marked


def _mark(
    mark: Mapping[str, Any], rating: Mapping[str, Any], weak: list[tuple[Decimal, Decimal | None]]
) -> Iterator[Overstated]:
    """A mark may lie so far below the first rating that the weaker rope still holds it."""
    for one in _rating({**rating, "stated": mark["stated"]}, weak):
        yield Overstated(f"{mark['quantity']}: {mark['legs']}", one.stated, one.supported)


def _weak_ends(
    snapshot: Snapshot, lowered_kn: Mapping[str, Decimal]
) -> Iterator[tuple[Decimal, Decimal | None]]:
    """Give force (kN) and least efficiency of each piece whose rope fell; None: not stated."""
    for piece in snapshot["pieces"]:
        force_kn = lowered_kn.get(piece["reel"])
        if force_kn is not None:
            ends = snapshot["assembly"]["ends"]
            kts = [_number(end["efficiency"]) for end in ends if end["piece"] == piece["code"]]
            known = [kt for kt in kts if kt is not None]
            yield force_kn, min(known) if known and len(known) == len(kts) else None


def _rating(
    rating: Mapping[str, Any], weak: list[tuple[Decimal, Decimal | None]]
) -> Iterator[Overstated]:
    if not weak:
        return
    frozen = _frozen(rating)
    stated = Decimal(rating["stated"])
    values = [
        None if frozen is None or kt is None else lowered_rating(frozen, force_kn=force_kn, kt=kt)
        for force_kn, kt in weak
    ]
    known = [value for value in values if value is not None]
    is_known = len(known) == len(values)
    if is_known and min(known) >= stated:
        return
    yield Overstated(
        quantity=_named(rating),
        stated=with_unit(plain(stated), rating["unit"]),
        supported=with_unit(plain(min(known)), rating["unit"]) if is_known else "",
    )


def _named(rating: Mapping[str, Any]) -> str:
    """Name a rating; of a working load limit there are several, told apart by their legs."""
    quantity = str(rating["quantity"])
    return f"{quantity}: {rating['words'].split('. ')[0]}" if rating["unit"] == "t" else quantity


def _frozen(rating: Mapping[str, Any]) -> FrozenRating | None:
    """Read force and efficiency out of the derivation; None where it is of another form."""
    derivation = rating["derivation"]
    inputs = derivation["inputs"]
    force = next((_number(one["value"]) for one in inputs if one["unit"] == "kN"), None)
    kt = next((_number(one["value"]) for one in inputs if one["symbol"] == "KT"), None)
    if force is None or kt is None:
        return None
    unrounded = Decimal(derivation["unrounded"])
    return FrozenRating(unrounded, Decimal(rating["stated"]), force, kt)


def _number(text: str) -> Decimal | None:
    try:
        return Decimal(text)
    except InvalidOperation:
        return None
