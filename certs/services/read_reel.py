"""Records how much rope a reel seems to hold, read by weighing or by its drum and winding.

The ledger is never changed by a reading: metres leave a reel by cuts alone. What a reading says of
the length, and whether it agrees with the ledger, is worked out when it is looked at.
"""

from datetime import datetime

from django.db import transaction

from certs.models import ReelReading
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from inventory.models import Person, Reel
from inventory.queries.stock import reel_balance
from inventory.rules.canonical import JsonValue
from inventory.rules.refusal import Refusal
from inventory.services import journal, numbering
from inventory.services.guarded import add_row
from inventory.services.locks import lock_row

_FIELDS = {
    ReelReading.Kind.MASS.value: ("gross_g", "tare_g"),
    ReelReading.Kind.DRUM.value: ("barrel_mm", "traverse_mm", "wound_mm"),
}
_WORDS = {
    "gross_g": "the mass of the reel with its rope",
    "tare_g": "the mass of the empty reel",
    "barrel_mm": "the diameter of the barrel",
    "traverse_mm": "the width between the flanges",
    "wound_mm": "the diameter over the winding",
}


class CannotRead(Refusal):
    """A reading that is not whole, or that no reel can give."""


def read_reel(
    *,
    reel: Reel,
    kind: str,
    gross_g: int | None = None,
    tare_g: int | None = None,
    barrel_mm: int | None = None,
    traverse_mm: int | None = None,
    wound_mm: int | None = None,
    note: str = "",
    by: Person,
    at: datetime,
) -> ReelReading:
    """Record a reading of kind "mass" (in g) or "drum" (in mm), with the ledger's length beside it.

    Raises CannotRead naming the figure that is missing, does not belong to the kind, or cannot be.
    """
    require(by=by, act=ClaimAct.READ_REEL)
    measured = {
        "gross_g": gross_g,
        "tare_g": tare_g,
        "barrel_mm": barrel_mm,
        "traverse_mm": traverse_mm,
        "wound_mm": wound_mm,
    }
    _check(kind, measured)
    with transaction.atomic():
        locked = lock_row(reel)
        reading = ReelReading(
            code=numbering.take_code(numbering.REEL_READING),
            reel=locked,
            kind=kind,
            **measured,
            ledger_mm=reel_balance(locked).remaining_mm,
            note=note.strip(),
            taken_at=at,
            taken_by=by,
        )
        add_row(reading, refusal=CannotRead)
        journal.append(
            at=at,
            by=by,
            act=ClaimAct.READ_REEL.value,
            subject=locked.code,
            detail=_detail(reading, measured),
            rows=[reading],
        )
    return reading


def _check(kind: str, measured: dict[str, int | None]) -> None:
    wanted = _FIELDS.get(kind)
    if wanted is None:
        message = f"“{kind}” is no way of reading a reel; it is one of {', '.join(_FIELDS)}."
        raise CannotRead(message, field="kind")
    for name, value in measured.items():
        if name not in wanted and value is not None:
            message = f"Leave out {_WORDS[name]}: it does not belong to this way of reading."
            raise CannotRead(message, field=name)
        if name in wanted and (value is None or value <= 0):
            message = f"Give {_WORDS[name]}."
            raise CannotRead(message, field=name)
    _check_order(measured, less="tare_g", more="gross_g")
    _check_order(measured, less="barrel_mm", more="wound_mm")


def _check_order(measured: dict[str, int | None], *, less: str, more: str) -> None:
    low, high = measured[less], measured[more]
    if low is not None and high is not None and high < low:
        message = f"{_sentence(_WORDS[more])} cannot be less than {_WORDS[less]}; check both."
        raise CannotRead(message, field=more)


def _sentence(words: str) -> str:
    return words[0].upper() + words[1:]


def _detail(reading: ReelReading, measured: dict[str, int | None]) -> dict[str, JsonValue]:
    figures: dict[str, JsonValue] = {
        name: value for name, value in measured.items() if value is not None
    }
    return {
        "reading": reading.code,
        "kind": reading.kind,
        "ledger_mm": reading.ledger_mm,
        **figures,
    }
