"""How strong a piece of rope is with its ends on: certified force times the weakest end's KT.

Which efficiency an end has is decided by `termination`, what may be hung on it by `working_load`.
"""

from certs.rules.breaking_force import in_kilonewtons
from certs.rules.derived import Derived, Given, plain, round_down
from certs.rules.sling_legs import ROUNDED_DOWN
from certs.rules.termination import Efficiency


def ended_force(certified: Derived, *, end: Efficiency) -> Derived:
    """Give the minimum breaking force in kN of a piece with its weakest end, rounded down.

    EN 13414-1 uses the same product before it divides by the coefficient.
    """
    force = in_kilonewtons(certified)
    unrounded = force.stated * end.kt
    return Derived(
        quantity="minimum breaking force of the piece with its ends",
        symbol="Fend",
        formula=f"Fend = {force.symbol} KT",
        inputs=(
            Given(force.symbol, force.quantity, plain(force.stated), "kN"),
            Given("KT", f"weakest end: {end.text}", plain(end.kt), "", end.source),
        ),
        source=end.source,
        unrounded=unrounded,
        stated=round_down(unrounded),
        unit="kN",
        rounding=ROUNDED_DOWN,
        basis=f"{end.name}; {force.basis}",
        rests_on=(force,),
    )
