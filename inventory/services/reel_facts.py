"""Decides whether what is said of a received reel can be true together.

Who may receive it and what is written then is decided in `inventory.services.receive`.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from inventory.models import Heat, MillDocument, Party, Reel
from inventory.rules.canonical import JsonValue
from inventory.rules.designation import RopeDesignation
from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal
from inventory.rules.units import format_metres, format_um

_MAKERS = (Party.Kind.MILL, Party.Kind.FITTING_MAKER)
# Own decision, to catch a slip of the unit: no strand goes once round the rope so soon or so late.
LAY_LENGTHS_D = (1, 30)
_NM_PER_UM = 1000


class CannotReceive(Refusal):
    """A heat, a document or a reel cannot be recorded as received."""


@dataclass(frozen=True, slots=True)
class HeatTie:
    """A heat in the wires of a reel: over its whole length (both None) or over one stretch."""

    heat: Heat
    from_mm: int | None = None
    to_mm: int | None = None


def check_reel(*, mill: Party, mill_document: MillDocument | None, length_mm: int) -> None:
    """Refuse a party that is no mill, a foreign document, no length; raises `CannotReceive`."""
    if mill.kind != Party.Kind.MILL:
        message = f"{mill.code} is no mill; a reel of rope is received from the mill that made it."
        raise CannotReceive(message, field="mill")
    if mill_document is not None and mill_document.mill_id != mill.pk:
        message = f"{mill_document.code} is a document of another mill; file the right one."
        raise CannotReceive(message, field="mill_document")
    if length_mm <= 0:
        message = "Give the length of rope on the reel."
        raise CannotReceive(message, field="length_mm")


def check_declared(value: int | None, *, field: str) -> None:
    """Refuse a declared value that is nothing or less; raises `CannotReceive`."""
    if value is not None and value <= 0:
        message = "A value declared by the maker is more than nothing; leave it empty if none is."
        raise CannotReceive(message, field=field)


def check_maker(party: Party) -> None:
    """Refuse a customer where a mill or maker is asked for; raises `CannotReceive`."""
    if party.kind not in _MAKERS:
        message = f"{party.code} is a customer; name the mill or maker instead."
        raise CannotReceive(message, field="mill")


def check_lay(lay_length_um: int | None, *, diameter_nm: int) -> None:
    """Refuse a lay length that no rope of this diameter has; raises `CannotReceive`."""
    if lay_length_um is None:
        return
    least, most = (times * diameter_nm for times in LAY_LENGTHS_D)
    if not least <= lay_length_um * _NM_PER_UM <= most:
        message = (
            f"{format_um(lay_length_um)} is no lay length of a rope of this diameter; check the"
            " figure and its unit, or leave it empty if none is stated."
        )
        raise CannotReceive(message, field="lay_length_um")


def check_heats(heats: Sequence[HeatTie], *, mill: Party, length_mm: int) -> None:
    """Refuse no heat, one of another mill, past the end or twice; raises `CannotReceive`."""
    if not heats:
        message = "Name at least one heat; without it nothing cut from the reel can be traced."
        raise CannotReceive(message, field="heats")
    whole = Stretch(0, length_mm)
    seen: list[tuple[int, Stretch]] = []
    for tie in heats:
        if tie.heat.mill_id != mill.pk:
            message = f"Heat {tie.heat.number} is of another mill."
            raise CannotReceive(message, field="heats")
        stretch = _stretch_of(tie, whole)
        if any(heat_id == tie.heat.pk and stretch.overlaps(s) for heat_id, s in seen):
            message = f"Heat {tie.heat.number} is named twice for the same metres."
            raise CannotReceive(message, field="heats")
        seen.append((tie.heat.pk, stretch))


def describe(reel: Reel, rope: RopeDesignation) -> None:
    """Put the parts of a designation on a reel."""
    reel.designation = rope.text
    reel.diameter_nm = rope.diameter_nm
    reel.construction = rope.construction
    reel.rope_core = rope.core
    reel.grade = rope.grade
    reel.finish = rope.finish
    reel.lay = rope.lay
    reel.assumed_parts = sorted(rope.assumed)


def reel_detail(reel: Reel, heats: Sequence[HeatTie]) -> dict[str, JsonValue]:
    """What the journal says of a received reel."""
    return {
        "designation": reel.designation,
        "mill": reel.mill.code,
        "mill_reel_number": reel.mill_reel_number,
        "length_mm": reel.length_mm,
        "heats": [{"heat": t.heat.code, "from_mm": t.from_mm, "to_mm": t.to_mm} for t in heats],
        "mill_document": reel.mill_document.code if reel.mill_document else None,
        "marked_grade": reel.marked_grade,
        "declared_force_n": reel.declared_force_n,
        "declared_mass_g_per_100m": reel.declared_mass_g_per_100m,
        "lay_length_um": reel.lay_length_um,
    }


def _stretch_of(tie: HeatTie, whole: Stretch) -> Stretch:
    if tie.from_mm is None and tie.to_mm is None:
        return whole
    if tie.from_mm is None or tie.to_mm is None:
        message = f"Give both ends of the stretch of heat {tie.heat.number}, or neither."
        raise CannotReceive(message, field="heats")
    stretch = Stretch(tie.from_mm, tie.to_mm)
    if stretch.to_mm > whole.to_mm:
        message = (
            f"The stretch of heat {tie.heat.number} ends at {format_metres(stretch.to_mm)},"
            f" past the end of the reel at {format_metres(whole.to_mm)}."
        )
        raise CannotReceive(message, field="heats")
    return stretch
