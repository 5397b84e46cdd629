"""Holds the load marked on an assembly against what it is rated for today.

Which band a mark is for and whether it may stand is decided by `certs.rules.stated_mark`.
"""

from typing import Any

from certs.queries.check_item import CheckItem
from certs.queries.strength import AssemblyStrength, assembly_strength
from certs.rules.derived import plain
from certs.rules.sling_legs import LegFactor
from certs.rules.stated_mark import NOT_RATED, QUANTITY, StatedMark, check_mark, stated_mark
from certs.rules.working_load import Rating
from inventory.models import Assembly

Facts = dict[str, Any]


def check_mark_of(assembly: Assembly, marked_kg: int) -> StatedMark:
    """Give the mark of an assembly as it may stand.

    Raises MarkedTooHigh above what governs the first band, Refusal for what is not rated.
    """
    return check_mark(marked_kg, _ratings(assembly_strength(assembly)))


def mark_item(strength: AssemblyStrength, marked_kg: int) -> CheckItem:
    """Tell whether a mark may still stand on the day of issue."""
    mark = stated_mark(marked_kg, _ratings(strength))
    about = strength.assembly.code
    if mark is None:
        return CheckItem("Marked load", is_met=False, text=NOT_RATED, about=about)
    text = mark.refusal or f"{mark.text}. {mark.legs.convention.words}."
    return CheckItem("Marked load", is_met=not mark.refusal, text=text, about=about)


def mark_facts(strength: AssemblyStrength, marked_kg: int | None) -> Facts | None:
    """State a mark as it goes into a snapshot; None without one, or where nothing is rated."""
    if marked_kg is None:
        return None
    mark = stated_mark(marked_kg, _ratings(strength))
    if mark is None:
        return None
    return {
        "quantity": QUANTITY,
        "kg": mark.marked_kg,
        "stated": mark.stated,
        "unit": "t",
        "derived": plain(mark.rating.governing_t),
        "legs": mark.legs.text,
        "convention": mark.legs.convention.value,
        "convention_text": mark.legs.convention.words,
        "text": f"{mark.text}.",
        "words": mark.words,
        "note": f"{mark.note}.",
    }


def _ratings(strength: AssemblyStrength) -> list[tuple[LegFactor, Rating]]:
    return [(load.legs, load.rating) for load in strength.loads]
