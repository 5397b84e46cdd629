"""Whether the breaking force that a maker declares bears out the basis it is certified on.

A declared force below the basis is a disagreement for a person to settle; the certified force is
the lower of the two in any case, which `breaking_force` sees to.
"""

from certs.rules.breaking_force import in_kilonewtons
from certs.rules.derived import Derived, Gap, Source
from certs.rules.finding import Finding, Verdict, against

TOPIC = "Declared breaking force"
RULE = "declared breaking force at or above the force on the basis named"
NOT_NAMED = Source(name="basis of strength", confidence="gap")


def force_finding(declared: Derived | Gap, basis: Derived | Gap) -> Finding:
    """Compare the maker's declared force with the force on the basis that was named."""
    known = tuple(one for one in (declared, basis) if isinstance(one, Derived))
    if isinstance(declared, Gap) or isinstance(basis, Gap):
        gaps = (one for one in (declared, basis) if isinstance(one, Gap))
        text = " ".join((*(f"{_told(one)}." for one in known), *(gap.reason for gap in gaps)))
        source = basis.source if isinstance(basis, Derived) else NOT_NAMED
        return Finding(TOPIC, Verdict.CANNOT_SAY, text, RULE, source, derived=known)
    asked = in_kilonewtons(basis)
    is_met = declared.stated >= asked.stated
    how = "not below" if is_met else "below"
    warning = "The lower of the two is certified as long as both stand."
    return Finding(
        topic=TOPIC,
        verdict=against(is_met=is_met, is_provisional=asked.is_provisional),
        text=f"Declared {declared.text}, {how} {asked.text} by {asked.basis}.",
        rule=RULE,
        source=asked.source,
        derived=(declared, asked),
        warnings=() if is_met else (warning,),
    )


def _told(force: Derived) -> str:
    return f"{force.quantity[:1].upper()}{force.quantity[1:]}: {force.text}"
