"""States the facts of an assembly as they go into a snapshot: JSON without floats."""

from collections.abc import Iterator
from typing import Any

from certs.queries.strength import AssemblyStrength, PieceStrength, RatedLoad, assembly_strength
from certs.rules.derived import Derived, plain
from inventory.models import Assembly, Termination

Facts = dict[str, Any]


def assembly_facts(assembly: Assembly) -> Facts:
    """State kind, ends with their fittings, the weakest link and what the assembly may carry."""
    strength = assembly_strength(assembly)
    return {
        "code": assembly.code,
        "kind": assembly.kind,
        "kind_text": assembly.get_kind_display(),
        "description": assembly.description,
        "built_at": assembly.built_at.isoformat(),
        "weakest": strength.weakest_link,
        "ends": list(_ends(assembly, strength)),
        "ratings": list(_ratings(strength)),
    }


def _ends(assembly: Assembly, strength: AssemblyStrength) -> Iterator[Facts]:
    kept = {piece.piece.pk: piece for piece in strength.pieces}
    fitted = (
        Termination.objects.filter(assembly_piece__assembly=assembly)
        .select_related("assembly_piece__piece")
        .prefetch_related("fittings__lot")
        .order_by("assembly_piece__position", "-end")
    )
    for end in fitted:
        piece = end.assembly_piece.piece
        kt, source = _efficiency(kept.get(piece.pk), end)
        yield {
            "piece": piece.code,
            "end": end.get_end_display(),
            "kind": end.get_kind_display(),
            "efficiency": kt,
            "source": source,
            "fittings": [
                {
                    "lot": use.lot.code,
                    "maker_lot_number": use.lot.maker_lot_number,
                    "description": use.lot.description,
                    "quantity": use.quantity,
                }
                for use in end.fittings.all()
            ],
        }


def _efficiency(piece: PieceStrength | None, end: Termination) -> tuple[str, str]:
    for found in piece.ends if piece else ():
        if found.place == end.get_end_display():
            return plain(found.kt), found.source.text
    return "no value held", ""


def _ratings(strength: AssemblyStrength) -> Iterator[Facts]:
    for load in strength.loads:
        yield _load(load)
    if strength.force is not None:
        yield _force(strength.force)


def _load(load: RatedLoad) -> Facts:
    """State a working load limit: what governs, with the formula's and the printed value."""
    formula, published = load.rating.formula, load.rating.published
    beside = (
        f"Lower of formula, {formula.text}, and printed table, {published.wll_t} t"
        f" ({published.source.text})"
        if published
        else "By formula; no printed value is held to compare it with"
    )
    return {
        "quantity": formula.quantity,
        "words": f"{load.legs.text.capitalize()}. {beside}",
        "stated": plain(load.rating.governing_t),
        "unit": "t",
        "is_provisional": formula.is_provisional,
        "derivation": formula.as_json(),
    }


def _force(force: Derived) -> Facts:
    return {
        "quantity": force.quantity,
        "words": "The force at which it may break when new, not a load that it may carry in use.",
        "stated": plain(force.stated),
        "unit": force.unit,
        "is_provisional": force.is_provisional,
        "derivation": force.as_json(),
    }
