"""How many wires of a rope have to be tested, and how many wires a rope can have at most.

The plan is that of ISO 10425:2003 (API Spec 9A) Annex B, as read. What the strengths say is
decided by `wire_grade`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from certs.rules.derived import Source
from certs.rules.finding import Finding, Verdict
from certs.rules.wire_strength import Wire, in_wires
from inventory.rules.refusal import Refusal
from inventory.rules.rope_designation import CONSTRUCTION, RopeDesignation

PLAN: Final = Source(
    name="ISO 10425:2003 (API Spec 9A) Annex B: wires taken from the rope", confidence="read"
)
TOPIC: Final = "Wires tested"
MANY_STRANDS: Final = 8
LEAST_OF_A_GROUP: Final = 3
# Outer and inner strands of ropes with two strand layers, from memory of EN 12385-4.
_TWO_LAYERS: Final = {17: (11, 6), 18: (12, 6)}
_ONE_LAYER: Final = range(3, 11)
_STRAND_CORES: Final = ("WSC", "KWSC")
_FIBRE_CORES: Final = ("", "FC", "NFC", "SFC")


@dataclass(frozen=True, slots=True)
class SamplingPlan:
    """What has to be tested, in words, and what is missing of it.

    `required` is None where the construction does not tell: then nothing can be said.
    """

    required: int | None
    tested: int
    asked: str
    missing: tuple[str, ...] = ()

    @property
    def is_whole(self) -> bool:
        """Whether all that the standard asks for was tested."""
        return self.required is not None and not self.missing


def sampling_plan(rope: RopeDesignation, wires: Sequence[Wire]) -> SamplingPlan:
    """Plan the wires of a rope and compare those that were tested.

    Raises Refusal for a rope of compacted strands: there Annex B does not apply.
    """
    if is_compacted(rope):
        message = (
            f"{rope.construction} is compacted: its wires are no longer round, and Annex B of"
            " ISO 10425 does not apply to them. Break a sample of the rope instead."
        )
        raise Refusal(message, field="sample")
    tested = sum(wire.is_sampled for wire in wires)
    if not rope.is_stranded:
        return _of_spiral(rope, wires, tested=tested)
    strands, per_strand = strands_to_test(rope), wires_to_test(rope.construction)
    if strands is None or per_strand is None:
        asked = (
            f"The designation {rope.construction} does not tell how its strands and wires lie:"
            " count the wires of one strand of each layer (two where it has more than eight)."
        )
        return SamplingPlan(None, tested, asked)
    required = strands * per_strand
    asked = (
        f"{strands} strand{'s' if strands > 1 else ''} of {per_strand} wires, fillers and centres"
        f" left out: {in_wires(required)}."
    )
    missing = () if tested >= required else (_untested(required - tested),)
    return SamplingPlan(required, tested, asked, missing)


def sampling_finding(plan: SamplingPlan) -> Finding:
    """Say whether enough wires were tested; too few prove nothing and refute nothing."""
    found = f"{in_wires(plan.tested)} tested. Asked for: {plan.asked}"
    text = " ".join((found, *plan.missing))
    return Finding(
        topic=TOPIC,
        verdict=Verdict.AGREE if plan.is_whole else Verdict.CANNOT_SAY,
        text=text,
        rule="one strand of each strand layer, two if the layer has more than eight; of a spiral"
        " rope a quarter of each group of wires, at least three",
        source=PLAN,
    )


def _untested(count: int, of_group: str = "") -> str:
    return f"{in_wires(count)}{of_group} {'was' if count == 1 else 'were'} not tested."


def is_compacted(rope: RopeDesignation) -> bool:
    """Tell whether the strands are compacted, as in 6xK36WS."""
    return "xK" in rope.construction


def strands_to_test(rope: RopeDesignation) -> int | None:
    """Give the number of strands to take apart; None where the layers are not known."""
    layers = strand_layers(rope.outer_strands)
    if layers is None:
        return None
    return sum(2 if strands > MANY_STRANDS else 1 for strands in layers)


def strand_layers(strands: int) -> tuple[int, ...] | None:
    """Give the strands of each layer from their number; None where it does not tell."""
    if strands in _TWO_LAYERS:
        return _TWO_LAYERS[strands]
    return (strands,) if strands in _ONE_LAYER else None


def wires_to_test(construction: str) -> int | None:
    """Give the wires of a strand that are tested: without centre and fillers.

    A filler strand of 1 + n + n fillers + 2n wires has a quarter of the rest as fillers (derived
    from its geometry). None where the count does not tell.
    """
    wires, kind = _wires_of_a_strand(construction)
    if kind == "FC":
        return wires
    if kind == "F":
        return (wires - 1) * 3 // 4 if (wires - 1) % 4 == 0 else None
    return None if "F" in kind else wires - 1


def most_wires(rope: RopeDesignation) -> int | None:
    """Give the greatest number of steel wires a rope can have; None where its core hides it."""
    wires, _ = _wires_of_a_strand(rope.construction)
    if rope.core in _FIBRE_CORES:
        return rope.outer_strands * wires
    return (rope.outer_strands + 1) * wires if rope.core in _STRAND_CORES else None


def least_wires(rope: RopeDesignation) -> int | None:
    """Give the number of wires that a whole sum stands for: fillers, centres and core left out."""
    per_strand = wires_to_test(rope.construction)
    return None if per_strand is None else rope.outer_strands * per_strand


def _of_spiral(rope: RopeDesignation, wires: Sequence[Wire], *, tested: int) -> SamplingPlan:
    """Ask a quarter of each group; the size of a group is what its wires stand for."""
    least = least_wires(rope)
    sizes: dict[str, int] = {}
    found: dict[str, int] = {}
    for wire in wires:
        if wire.is_sampled:
            sizes[wire.layer] = sizes.get(wire.layer, 0) + wire.represents
            found[wire.layer] = found.get(wire.layer, 0) + 1
    asked = {name: _of_group(size) for name, size in sizes.items()}
    unnamed = 0 if least is None else least - sum(sizes.values())
    missing = (
        *(
            _untested(asked[name] - found[name], f" of {name}")
            for name in asked
            if found[name] < asked[name]
        ),
        *((f"No wire tested stands for {in_wires(unnamed)} of the rope.",) if unnamed > 0 else ()),
    )
    words = ", ".join(f"{count} of {name}" for name, count in asked.items())
    text = (
        f"a quarter of each group of wires, at least {LEAST_OF_A_GROUP}: {words or 'none named'}."
    )
    return SamplingPlan(sum(asked.values()) or None, tested, text, missing)


def _of_group(size: int) -> int:
    return min(size, max(LEAST_OF_A_GROUP, -(-size // 4)))


def _wires_of_a_strand(construction: str) -> tuple[int, str]:
    found = CONSTRUCTION.fullmatch(construction)
    kind = (found["kind"] if found else "") or ""
    after = construction.partition("x")[2].removeprefix("K")
    return int(after.removesuffix(kind)), kind
