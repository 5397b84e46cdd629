"""Decides how the strength of an assembly is told: ends, weakest link, loads, and why."""

from collections.abc import Iterator

from django.http import HttpRequest, HttpResponse

from certs.pages.addresses import page_of
from certs.pages.derivations import ShownDerivation, shown_steps
from certs.pages.outcome_tables import table_of_proof_tests
from certs.pages.rendering import show
from certs.queries.claim_registers import (
    certificates_of_assembly,
    proof_tests,
    tags_of_assembly,
)
from certs.queries.strength import AssemblyStrength, assembly_strength
from certs.rules.derived import plain
from inventory.pages.acting import found, signed_in
from inventory.pages.table import Cell, Column, Line, Table, build_table
from inventory.queries.things import assembly_of_code


@signed_in
def strength_of_assembly(request: HttpRequest, code: str) -> HttpResponse:
    """What an assembly may carry, step by step, its proof loads, its papers and its tags."""
    assembly = found(assembly_of_code(code))
    strength = assembly_strength(assembly)
    return show(
        request,
        "certs/assembly_strength.html",
        area="assemblies",
        assembly=assembly,
        strength=strength,
        ends=_ends(strength),
        loads=_loads(strength),
        force=strength.force,
        steps=_steps(strength),
        tests=table_of_proof_tests(proof_tests(assembly=assembly)),
        certificates=certificates_of_assembly(assembly),
        tags=tags_of_assembly(assembly),
    )


def _ends(strength: AssemblyStrength) -> Table:
    return build_table(
        columns=(
            "Piece",
            "Rope",
            Column("Force of the rope", is_number=True),
            "End",
            Column("KT", is_number=True),
            "Printed as",
            "Source",
        ),
        lines=(
            Line(
                (
                    Cell(piece.piece.code, href=page_of(piece.piece.code)),
                    piece.rope.text,
                    piece.certified.text,
                    f"{end.place}: {end.name}",
                    plain(end.kt),
                    end.printed,
                    end.source.text,
                )
            )
            for piece in strength.pieces
            for end in piece.ends
        ),
        folds=True,
    )


def _loads(strength: AssemblyStrength) -> Table:
    return build_table(
        columns=(
            "Legs and angle",
            Column("Working load limit, t", is_number=True),
            "Governed by",
            Column("Formula, t", is_number=True),
            Column("Printed, t", is_number=True),
        ),
        lines=(
            Line(
                (
                    load.legs.text,
                    Cell(plain(load.rating.governing_t)),
                    "printed table" if load.rating.governed_by == "published" else "formula",
                    plain(load.rating.formula.stated),
                    plain(load.rating.published.wll_t) if load.rating.published else "none held",
                )
            )
            for load in strength.loads
        ),
    )


def _steps(strength: AssemblyStrength) -> list[ShownDerivation]:
    """Tell every derivation behind the page, each step once."""
    return list(dict.fromkeys(_all_steps(strength)))


def _all_steps(strength: AssemblyStrength) -> Iterator[ShownDerivation]:
    if strength.force is not None:
        yield from shown_steps(strength.force)
    for load in strength.loads:
        yield from shown_steps(load.rating.formula)
