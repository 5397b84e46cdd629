"""Decides how the proof loads that rules ask for are told beside the form; none is chosen here."""

from dataclasses import dataclass

from certs.pages.strength_tables import table_of_proof_loads, table_of_regimes
from certs.queries.proof_asked import applying, only_elsewhere, proof_asked
from certs.queries.strength import assembly_strength
from inventory.models import Assembly
from inventory.pages.table import Table


@dataclass(frozen=True, slots=True)
class ProofAdvice:
    """Which rules apply to an assembly and why, what they ask for, and what others would."""

    regimes: Table
    loads: Table
    other_loads: Table


def advice_for(assembly: Assembly) -> ProofAdvice:
    """Tell what the rules that apply to this assembly ask for, by legs and angle."""
    asked = proof_asked(assembly_strength(assembly))
    return ProofAdvice(
        regimes=table_of_regimes(asked),
        loads=table_of_proof_loads(applying(asked)),
        other_loads=table_of_proof_loads(only_elsewhere(asked)),
    )
