"""Holds the latest proof load that counts against what the rules that apply ask for."""

from collections.abc import Iterator

from certs.queries.evidence import supporting_proof_tests
from certs.queries.proof_asked import ProofAsked, applying, proof_asked
from certs.queries.strength import AssemblyStrength
from certs.rules.finding import Finding
from certs.rules.proof_reached import proof_reached


def proof_held(strength: AssemblyStrength) -> tuple[Finding, ...]:
    """Compare the proof load with each rule that applies; nothing without one that counts."""
    return tuple(_held(strength))


def _held(strength: AssemblyStrength) -> Iterator[Finding]:
    tests = supporting_proof_tests(strength.assembly)
    if not tests:
        return
    latest = tests[0]
    for told in applying(proof_asked(strength)):
        for row in told.regime.rows:
            of_row = [one for one in told.asked if one.row == row]
            loads = [one.proof for one in of_row if one.proof is not None]
            if loads:
                yield proof_reached(
                    proved_n=latest.required_n,
                    peak_n=latest.peak_n,
                    row=row,
                    asked=loads,
                    is_provisional=_is_provisional(of_row),
                )


def _is_provisional(asked: list[ProofAsked]) -> bool:
    return any(one.load.rating.formula.is_provisional for one in asked)
