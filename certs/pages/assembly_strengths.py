"""Decides how the strength of an assembly is told: build, weakest link, loads, proof, and why."""

from collections.abc import Iterator
from decimal import Decimal

from django.http import HttpRequest, HttpResponse

from certs.pages.derivations import ShownDerivation, shown_steps
from certs.pages.forms.strength import StrengthLookForm
from certs.pages.outcome_tables import table_of_proof_tests
from certs.pages.rendering import show
from certs.pages.strength_tables import (
    shown_findings,
    table_of_ends,
    table_of_loads,
    table_of_marks,
    table_of_proof_loads,
    table_of_regimes,
)
from certs.queries.claim_registers import (
    certificates_of_assembly,
    proof_tests,
    tags_of_assembly,
)
from certs.queries.proof_asked import applying, only_elsewhere, proof_asked
from certs.queries.proof_held import proof_held
from certs.queries.strength import AssemblyStrength, assembly_strength, is_sling
from certs.rules.marked_load import mark_checks
from certs.rules.sling_legs import AngleConvention
from inventory.pages.acting import found, signed_in
from inventory.pages.table import Table
from inventory.queries.things import assembly_of_code


@signed_in
def strength_of_assembly(request: HttpRequest, code: str) -> HttpResponse:
    """What an assembly may carry, step by step, its proof loads, its papers and its tags."""
    assembly = found(assembly_of_code(code))
    look = StrengthLookForm(request.GET)
    strength = assembly_strength(assembly, lay_mm=look.read("lay_mm"))
    asked = proof_asked(strength)
    return show(
        request,
        "certs/assembly_strength.html",
        area="assemblies",
        assembly=assembly,
        strength=strength,
        is_sling=is_sling(assembly),
        look=look,
        marks=_marks(strength, look.read("marked_t")),
        ends=table_of_ends(strength),
        loads=table_of_loads(strength),
        is_american=strength.convention is AngleConvention.FROM_HORIZONTAL,
        findings=shown_findings(strength.findings),
        regimes=table_of_regimes(asked),
        proof_loads=table_of_proof_loads(applying(asked)),
        other_loads=table_of_proof_loads(only_elsewhere(asked)),
        held=shown_findings(proof_held(strength)),
        force=strength.force,
        steps=_steps(strength),
        tests=table_of_proof_tests(proof_tests(assembly=assembly)),
        certificates=certificates_of_assembly(assembly),
        tags=tags_of_assembly(assembly),
    )


def _marks(strength: AssemblyStrength, marked_t: Decimal | None) -> Table | None:
    if marked_t is None or not strength.loads:
        return None
    checks = mark_checks(marked_t, ((load.legs, load.rating) for load in strength.loads))
    return table_of_marks(checks)


def _steps(strength: AssemblyStrength) -> list[ShownDerivation]:
    """Tell every derivation behind the page, each step once."""
    return list(dict.fromkeys(_all_steps(strength)))


def _all_steps(strength: AssemblyStrength) -> Iterator[ShownDerivation]:
    if strength.force is not None:
        yield from shown_steps(strength.force)
    for load in strength.loads:
        yield from shown_steps(load.rating.formula)
    for finding in strength.findings:
        for limit in finding.derived:
            yield from shown_steps(limit)
