"""States the facts of an assembly as they go into a snapshot: JSON without floats."""

from collections.abc import Iterator
from typing import Any

from certs.queries.marks import mark_facts
from certs.queries.proof_asked import RegimeAsked, applying, proof_asked
from certs.queries.proof_held import proof_held
from certs.queries.rating_words import words_of
from certs.queries.strength import AssemblyStrength, PieceStrength, RatedLoad, assembly_strength
from certs.rules.derived import Derived, plain
from certs.rules.finding import Finding
from inventory.models import Assembly, Termination

Facts = dict[str, Any]


def assembly_facts(assembly: Assembly, *, marked_kg: int | None = None) -> Facts:
    """State kind, use, ends, weakest link, how it was built, what it may carry, and its mark."""
    strength = assembly_strength(assembly)
    return {
        "code": assembly.code,
        "kind": assembly.kind,
        "kind_text": assembly.get_kind_display(),
        "description": assembly.description,
        "use": assembly.use,
        "use_text": assembly.get_use_display(),
        "convention": assembly.convention,
        "convention_text": strength.convention.words,
        "market_date": assembly.market_date and assembly.market_date.isoformat(),
        "bend_mm": assembly.bend_mm,
        "built_at": assembly.built_at.isoformat(),
        "weakest": strength.weakest_link,
        "ends": list(_ends(assembly, strength)),
        "ratings": list(_ratings(strength)),
        "marked": mark_facts(strength, marked_kg),
        "build": [_finding(one) for one in strength.findings],
        "proof_rules": [_regime(one) for one in applying(proof_asked(strength))],
        "proof_held": [_finding(one) for one in proof_held(strength)],
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
    formula = load.rating.formula
    return {
        "quantity": formula.quantity,
        "words": words_of(load),
        "stated": plain(load.rating.governing_t),
        "unit": "t",
        "convention": load.legs.convention.value,
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


def _finding(finding: Finding) -> Facts:
    """State what was found of how it was built; the limit it was held against is in the text."""
    return {
        "topic": finding.topic,
        "verdict": finding.verdict.value,
        "verdict_text": finding.verdict.words,
        "text": " ".join((finding.text, *finding.warnings)),
        "rule": finding.rule,
        "source": finding.source.text,
    }


def _regime(told: RegimeAsked) -> Facts:
    return {
        "name": told.regime.name,
        "applies": told.regime.applies.words,
        "reason": told.regime.reason,
        "source": told.regime.source.text,
        "asked": [
            {
                "rule": f"{one.row.item}: {one.row.printed}",
                "legs": one.load.legs.text,
                "load": one.text,
                "source": one.row.source.text,
            }
            for one in told.asked
        ],
    }
