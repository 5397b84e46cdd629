"""States what a machine had to show and what stayed of a load, as it goes into a snapshot."""

from typing import Any

from certs.models import ProofTest
from certs.queries.force_asked import force_asked_of
from certs.queries.proof_extension import extension_on_record

Facts = dict[str, Any]


def bounds_facts(test: ProofTest) -> Facts | None:
    """State the bounds with their derivations; None where no class of machine is held."""
    shown = force_asked_of(test).shown
    if shown is None:
        return None
    bounds = (shown.least, shown.most)
    return {
        "told": shown.told,
        "is_possible": shown.is_possible,
        "derivations": [bound.as_json() for bound in bounds if bound is not None],
    }


def extension_facts(test: ProofTest) -> Facts | None:
    """State what stayed of the load; None where it was not measured."""
    found = extension_on_record(test)
    if found is None:
        return None
    return {
        "told": found.told,
        "outcome": found.outcome.value,
        "limit_pct": None if found.limit_pct is None else str(found.limit_pct),
        "derivation": found.derived.as_json(),
    }
