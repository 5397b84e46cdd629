"""Finds a thing by the code that stands on it; the letter before the dash tells its kind."""

import re

from inventory.models import (
    Assembly,
    CutPiece,
    Delivery,
    FittingLot,
    Heat,
    Hold,
    MillDocument,
    Order,
    Party,
    Reel,
    TestingMachine,
)

Thing = (
    Party
    | Heat
    | MillDocument
    | Reel
    | CutPiece
    | Order
    | FittingLot
    | Assembly
    | Delivery
    | Hold
    | TestingMachine
)

_KINDS: dict[str, type[Thing]] = {
    "M": Party,
    "S": Party,
    "C": Party,
    "H": Heat,
    "D": MillDocument,
    "R": Reel,
    "P": CutPiece,
    "O": Order,
    "F": FittingLot,
    "A": Assembly,
    "V": Delivery,
    "X": Hold,
    "T": TestingMachine,
}

_CODE = re.compile(r"([A-Z])[ -]*0*([0-9]{1,9})", re.ASCII)


def find_thing(code: str) -> Thing | None:
    """Return the thing with this code, None if there is none.

    Read as people type it: "r-12", "R12" and "R-00012" are one code.
    """
    match = _CODE.fullmatch(code.strip().upper())
    kind = _KINDS.get(match[1]) if match else None
    if match is None or kind is None:
        return None
    return kind.objects.filter(code=f"{match[1]}-{int(match[2]):05d}").first()


def heats_of_number(number: str) -> list[Heat]:
    """Return the heats of this number; two mills may use the same one."""
    found = Heat.objects.filter(number=number.strip()).select_related("mill")
    return list(found.order_by("mill__code"))
