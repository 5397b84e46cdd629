"""What load an assembly is proved with, under a named regime.

It decides the load and the one limit that no regime may pass. Whether a test run met it is
decided where the test is judged.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from certs.rules.derived import Derived, Given, Source, plain, trimmed
from certs.rules.specification_row import decimal_or_none, source_of
from certs.rules.termination import TerminationKind
from certs.rules.working_load import GRAVITY_M_S2
from inventory.rules.refusal import Refusal

HAND_SPLICE_HIGHEST = Decimal("1.25")
HAND_SPLICE_LIMIT = Source("ASME B30.9, as cited on a US national-laboratory test form", "", "read")
NEWTON_KN = Decimal("0.001")


class ProofRefused(Refusal):
    """A proof load that may not be put on; the text says why."""


@dataclass(frozen=True, slots=True)
class ProofStep:
    """The proof load for rated loads up to `up_to_t`: factor x rated load + `added_t`."""

    up_to_t: Decimal | None
    factor: Decimal
    added_t: Decimal


@dataclass(frozen=True, slots=True)
class ProofRow:
    """A regime of proof loads; `steps` is empty where its text gives no figure to compute with.

    `rated_by` names the load that the factor multiplies; `is_ceiling` says that the load may not
    be passed, where otherwise it must be reached.
    """

    key: str
    item: str
    printed: str
    rated_by: str
    is_ceiling: bool
    steps: tuple[ProofStep, ...]
    source: Source

    @classmethod
    def read(cls, row: Mapping[str, str]) -> "ProofRow":
        """Read a row of the proof load table; steps are written `up to:factor:added;...`."""
        return cls(
            key=row["key"],
            item=row["item"],
            printed=row["proof_load"],
            rated_by=row["rated_by"],
            is_ceiling=row["is_ceiling"] == "yes",
            steps=tuple(_step(text) for text in row["tiers"].split(";") if text),
            source=source_of(row),
        )

    def step_for(self, rated_t: Decimal) -> ProofStep | None:
        """Give the step that a rated load falls in, its upper end included."""
        fitting = (step for step in self.steps if step.up_to_t is None or rated_t <= step.up_to_t)
        return next(fitting, None)


def proof_load(*, rated_t: Decimal, row: ProofRow, ends: frozenset[TerminationKind]) -> Derived:
    """Give the proof force in kN for a rated load in tonnes under one regime.

    A load to be reached is rounded up to the newton, a load not to be passed down. Raises
    ProofRefused where the regime gives no figure, and for a hand-spliced end above 1.25 times.
    """
    step = row.step_for(rated_t)
    if step is None or rated_t <= 0:
        message = (
            f"No proof load can be computed for {trimmed(rated_t)} t from “{row.item}: "
            f"{row.printed}” ({row.source.text})."
        )
        raise ProofRefused(message, field="proof_load")
    proof_t = step.factor * rated_t + step.added_t
    _check_hand_splice(proof_t, rated_t, ends)
    unrounded = proof_t * GRAVITY_M_S2
    rounding = ROUND_FLOOR if row.is_ceiling else ROUND_CEILING
    return Derived(
        quantity="proof force not to be passed" if row.is_ceiling else "proof force",
        symbol="P",
        formula="P = (c m + a) g",
        inputs=(
            Given("c", f"{row.item}: {row.printed}", plain(step.factor), "", row.source),
            Given("m", row.rated_by, trimmed(rated_t), "t"),
            Given("a", "added load", trimmed(step.added_t), "t", row.source),
            Given("g", "acceleration of free fall", trimmed(GRAVITY_M_S2), "m/s²"),
        ),
        source=row.source,
        unrounded=unrounded,
        stated=Decimal(trimmed(unrounded.quantize(NEWTON_KN, rounding=rounding))),
        unit="kN",
        rounding="down to the whole newton" if row.is_ceiling else "up to the whole newton",
        basis=f"{row.item}: {row.printed}",
    )


def _check_hand_splice(
    proof_t: Decimal, rated_t: Decimal, ends: frozenset[TerminationKind]
) -> None:
    if TerminationKind.HAND_SPLICE in ends and proof_t > HAND_SPLICE_HIGHEST * rated_t:
        message = (
            f"A hand splice is never proved above {HAND_SPLICE_HIGHEST} times its rated load; "
            f"{trimmed(proof_t)} t on {trimmed(rated_t)} t is more. ({HAND_SPLICE_LIMIT.text})"
        )
        raise ProofRefused(message, field="proof_load")


def _step(text: str) -> ProofStep:
    up_to, factor, added = text.split(":")
    return ProofStep(decimal_or_none(up_to), Decimal(factor), Decimal(added))
