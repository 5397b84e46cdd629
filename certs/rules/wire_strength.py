"""A wire tested in tension, and the strength that follows from its force and its diameter.

Whether a strength fits a grade is decided by `wire_grade`; what the forces sum up to, by
`wire_force`.
"""

from dataclasses import dataclass
from decimal import ROUND_DOWN, Decimal
from typing import Final

from certs.rules.derived import Derived, Given, Source, trimmed
from inventory.rules.refusal import Refusal

PI: Final = Decimal("3.14159265358979323846264338327950288")
# Own decision, no source: beyond these no steel wire for rope lies, so a unit was mistaken.
LEAST_N_MM2, MOST_N_MM2 = Decimal(200), Decimal(5000)
NM_PER_MM: Final = 10**6
MN_PER_N: Final = 1000
LONGEST_LAYER: Final = 40
TENTHS: Final = "down to a tenth, so that nothing is overstated"
DEFINITION: Final = Source(
    name="definition of tensile strength: force over nominal cross-section", confidence="derived"
)
_TENTH: Final = Decimal("0.1")
# Fillers and centres are not tested (ISO 10425:2003 (API Spec 9A) Annex B, as read).
_UNTESTED_WORDS: Final = ("centre", "center", "filler")
_CORE_WORD: Final = "core"


@dataclass(frozen=True, slots=True)
class Wire:
    """One wire tested: nominal diameter in nm, greatest force in mN, how many it stands for.

    A force is kept in thousandths of a newton: on a wire of 0.2 mm a whole newton is 32 N/mm2.
    `retest_force_mn` is the force of a second wire of the same place, tested because the first one
    failed; None where there was none. Raises Refusal for what is no wire.
    """

    layer: str
    diameter_nm: int
    force_mn: int
    represents: int = 1
    retest_force_mn: int | None = None

    def __post_init__(self) -> None:
        """Refuse a wire without name, size or count, and a strength that no steel wire has."""
        if not self.layer.strip():
            raise Refusal("Say in which layer the wire lies.", field="wires")
        if len(self.layer) > LONGEST_LAYER:
            message = f"“{self.layer[:20]}…” is too long for a layer; take {LONGEST_LAYER} letters."
            raise Refusal(message, field="wires")
        if self.diameter_nm <= 0 or self.represents <= 0:
            message = f"A wire of {self.layer} needs a diameter and a count above nought."
            raise Refusal(message, field="wires")
        for force_mn in self.forces_mn:
            strength = strength_n_mm2(force_mn=force_mn, diameter_nm=self.diameter_nm)
            if not LEAST_N_MM2 <= strength <= MOST_N_MM2:
                message = (
                    f"{shown_newtons(force_mn)} on a wire of {trimmed(self.diameter_mm)} mm"
                    f" would be {strength:.0f} N/mm², which no wire of a rope has: check the units."
                )
                raise Refusal(message, field="wires")

    @property
    def forces_mn(self) -> tuple[int, ...]:
        """The force of the test, and that of the retest where there was one, in mN."""
        return (
            (self.force_mn,)
            if self.retest_force_mn is None
            else (self.force_mn, self.retest_force_mn)
        )

    @property
    def diameter_mm(self) -> Decimal:
        """The nominal diameter in mm, exact."""
        return Decimal(self.diameter_nm) / NM_PER_MM

    @property
    def judged_force_mn(self) -> int:
        """The force in mN by which its strength is judged: that of the last test.

        The standard asks for samples long enough for a retest (ISO 10425:2003 (API Spec 9A)
        Annex B, as read); that the retest then takes the place of the first is derived from it.
        A wire that fails both counts once.
        """
        return self.forces_mn[-1]

    @property
    def counted_force_mn(self) -> int:
        """The force in mN that goes into a sum: its lower test (own decision, safe side)."""
        return min(self.forces_mn)

    @property
    def strength(self) -> Decimal:
        """The tensile strength in N/mm2 that is judged, unrounded."""
        return strength_n_mm2(force_mn=self.judged_force_mn, diameter_nm=self.diameter_nm)

    @property
    def is_judged(self) -> bool:
        """Whether it bears on the grade: fillers and centres do not."""
        return not any(word in self.layer.lower() for word in _UNTESTED_WORDS)

    @property
    def is_sampled(self) -> bool:
        """Whether it counts towards the wires that the standard asks to be tested.

        Wires of a core are judged where they are listed, but take the place of no strand's
        (own decision, safe side).
        """
        return self.is_judged and _CORE_WORD not in self.layer.lower()


def strength_n_mm2(*, force_mn: int, diameter_nm: int) -> Decimal:
    """Give the strength of a round wire in N/mm2, unrounded: force in mN, diameter in nm."""
    return Decimal(4 * force_mn * NM_PER_MM**2) / (PI * diameter_nm**2 * MN_PER_N)


def newtons(force_mn: int) -> Decimal:
    """Give a force in mN as N, exact."""
    return Decimal(force_mn) / MN_PER_N


def in_wires(count: int) -> str:
    """Write how many wires: "1 wire", "6 wires"."""
    return f"{count} wire" if count == 1 else f"{count} wires"


def shown_newtons(force_mn: int) -> str:
    """Write a force in mN as N, with no digit more than it has: 55400 is "55.4 N"."""
    return f"{trimmed(newtons(force_mn))} N"


def shown_strength(strength: Decimal) -> str:
    """Write a strength in N/mm2 to the tenth, cut down."""
    return trimmed(strength.quantize(_TENTH, rounding=ROUND_DOWN))


def tensile_strength(wire: Wire, *, name: str = "tensile strength of a wire") -> Derived:
    """Give the strength of a wire in N/mm2 with all it rests on: R = F / (π d² / 4)."""
    return Derived(
        quantity=name,
        symbol="R",
        formula="R = F / (π d² / 4)",
        inputs=(
            Given("F", _force_name(wire), trimmed(newtons(wire.judged_force_mn)), "N"),
            Given(
                "d", f"nominal diameter of the wire, {wire.layer}", trimmed(wire.diameter_mm), "mm"
            ),
        ),
        source=DEFINITION,
        unrounded=wire.strength,
        stated=wire.strength.quantize(_TENTH, rounding=ROUND_DOWN),
        unit="N/mm²",
        rounding=TENTHS,
        basis="a tensile test of the wire",
    )


def _force_name(wire: Wire) -> str:
    if wire.retest_force_mn is None:
        return "greatest force of the wire"
    first = shown_newtons(wire.force_mn)
    return f"greatest force of the second wire of the place; the first bore {first}"
