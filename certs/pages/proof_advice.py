"""Decides how the proof loads that rules ask for are told beside the form; none is chosen here."""

from collections.abc import Iterator
from decimal import Decimal

from certs.queries.specification_rows import proof_load_rows
from certs.queries.strength import RatedLoad, assembly_strength
from certs.rules.confidence import in_words
from certs.rules.derived import plain
from certs.rules.proof_load import ProofRefused, ProofRow, proof_load
from certs.rules.termination import TerminationKind
from inventory.models import Assembly
from inventory.pages.table import Column, Line, Table, build_table

# The rules of the table that speak of slings; the others are for other gear.
_FOR_SLINGS = ("sling_", "welded_end")


def advice_for(assembly: Assembly) -> Table:
    """Tell what each rule that speaks of slings asks for this assembly, by legs and angle."""
    return build_table(
        columns=(
            "Rule",
            "For",
            Column("Rated load, t", is_number=True),
            Column("Proof load", is_number=True),
            "Source",
            "Confidence",
        ),
        lines=_lines(assembly),
    )


def _lines(assembly: Assembly) -> Iterator[Line]:
    strength = assembly_strength(assembly)
    ends = frozenset(end.kind for piece in strength.pieces for end in piece.ends)
    rows = [row for row in proof_load_rows() if row.steps and row.key.startswith(_FOR_SLINGS)]
    for row in rows:
        for load in strength.loads:
            yield Line(
                (
                    f"{row.item}: {row.printed}",
                    load.legs.text,
                    plain(load.rating.governing_t),
                    _asked(row, load, ends),
                    row.source.name,
                    in_words(row.source.confidence),
                )
            )


def _asked(row: ProofRow, load: RatedLoad, ends: frozenset[TerminationKind]) -> str:
    try:
        return proof_load(rated_t=Decimal(load.rating.governing_t), row=row, ends=ends).text
    except ProofRefused as refusal:
        return refusal.message
