"""The breaking force of a rope calculated from its wires, by two methods that are never mixed.

ISO 10425:2003 5.1.4 knows three ways: 1, an actual test of the rope; 2, the wires after unlaying
times the partial spinning-loss factor; 3, the wires before laying times the total one. Each has
types of its own here, so that a factor of one cannot meet the sum of another. Method 1 is
`breaking_test`; what follows when a calculated force falls short is `force_route`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation
from typing import Final

from certs.rules.breaking_force import TO_NEWTON
from certs.rules.derived import Derived, Given, Source, plain, trimmed
from certs.rules.specification_row import Factor
from certs.rules.wire_strength import Wire, newtons
from inventory.rules.refusal import Refusal
from inventory.rules.rope_designation import RopeDesignation

METHODS: Final = Source(name="ISO 10425:2003 (API Spec 9A) 5.1.4", confidence="read")
RELATIONS: Final = Source(name="EN 12385-2 clause 3.10", confidence="read")
TYPE_TESTS: Final = 3
SUM_TO_NEWTON: Final = "half up to the newton; what follows from it is taken from the exact sum"
_LONGEST_FACTOR: Final = 12


@dataclass(frozen=True, slots=True)
class PartialLoss:
    """Partial spinning-loss factor: from the sum after unlaying to the force of the rope."""

    values: tuple[Decimal, ...]
    source: str


@dataclass(frozen=True, slots=True)
class TotalLoss:
    """Total spinning-loss factor: from the sum before laying to the force of the rope."""

    values: tuple[Decimal, ...]
    source: str


@dataclass(frozen=True, slots=True)
class SumAfterUnlaying:
    """The sum of the forces of all wires, measured on wires taken from the rope (method 2)."""

    derived: Derived


@dataclass(frozen=True, slots=True)
class SumBeforeLaying:
    """The sum of the forces of all wires, measured before they were laid (method 3)."""

    derived: Derived


def partial_loss(values: Sequence[Decimal], *, source: str) -> PartialLoss:
    """Take the factors of a type test, three of them, or one from Annex F or a named paper.

    Raises Refusal for any other number of them, one outside 0 to 1, or no source.
    """
    return PartialLoss(_checked(values, source), source.strip())


def total_loss(values: Sequence[Decimal], *, source: str) -> TotalLoss:
    """Take the factors of a type test, three of them, or the lowest of them from a named paper.

    Raises Refusal for any other number of them, one outside 0 to 1, or no source.
    """
    return TotalLoss(_checked(values, source), source.strip())


def sum_after_unlaying(wires: Sequence[Wire]) -> SumAfterUnlaying:
    """Sum the forces of wires taken from the rope, each times the wires it stands for."""
    return SumAfterUnlaying(_sum(wires, "sum of wire forces after unlaying (method 2)"))


def sum_before_laying(wires: Sequence[Wire]) -> SumBeforeLaying:
    """Sum the forces of wires tested before laying, each times the wires it stands for."""
    return SumBeforeLaying(_sum(wires, "sum of wire forces before laying (method 3)"))


def calculated_after_unlaying(total: SumAfterUnlaying, loss: PartialLoss) -> Derived:
    """Give the calculated breaking force in N by method 2."""
    return _calculated(total.derived, loss.values, loss.source, "partial", "method 2")


def calculated_before_laying(total: SumBeforeLaying, loss: TotalLoss) -> Derived:
    """Give the calculated breaking force in N by method 3."""
    return _calculated(total.derived, loss.values, loss.source, "total", "method 3")


def calculated_aggregate(rope: RopeDesignation, factor: Factor) -> Derived | None:
    """Give Fe.min in kN as C d² Rr / 1000: a sum of wires, never a breaking force of the rope.

    None where no C is held, or the grade is a name and no number.
    """
    if factor.C is None or not rope.grade.isdecimal():
        return None
    unrounded = factor.C * rope.diameter_mm**2 * Decimal(rope.grade) / 1000
    return Derived(
        quantity="calculated aggregate force, which is no breaking force of the rope",
        symbol="Fe.min",
        formula="Fe.min = C d² Rr / 1000",
        inputs=(
            Given(
                "C",
                f"metal area factor of class {factor.rope_class}",
                plain(factor.C),
                "",
                factor.source,
            ),
            Given("d", "nominal diameter", trimmed(rope.diameter_mm), "mm"),
            Given("Rr", "rope grade", rope.grade, "N/mm²"),
        ),
        source=RELATIONS,
        unrounded=unrounded,
        stated=Decimal(int(unrounded * 1000)) / 1000,
        unit="kN",
        rounding=TO_NEWTON,
        basis="nominal metal area and grade",
        remarks=("It leaves out the spinning loss: Fmin takes K in place of C.",),
    )


def read_factors(text: str) -> tuple[Decimal, ...]:
    """Read factors with semicolons, blanks or new lines between, decimal comma or point.

    Raises Refusal for what is no number.
    """
    words = text.replace(";", " ").replace(", ", " ").split()
    try:
        return tuple(Decimal(word.replace(",", ".")) for word in words)
    except InvalidOperation as error:
        message = f"“{text.strip()[:40]}” is no factor; write 0.93, or 0.93; 0.94; 0.95."
        raise Refusal(message, field="spinning_factors") from error


def _checked(values: Sequence[Decimal], source: str) -> tuple[Decimal, ...]:
    field = "spinning_factors"
    if len(values) not in {1, TYPE_TESTS}:
        message = (
            f"Give the factors of all {TYPE_TESTS} type tests, of which the lowest counts, or the"
            " one value that a paper states."
        )
        raise Refusal(message, field=field)
    for value in values:
        if not (value.is_finite() and 0 < value <= 1) or len(plain(value)) > _LONGEST_FACTOR:
            message = f"A spinning-loss factor lies above 0 and is at most 1, not {value}."
            raise Refusal(message, field=field)
    if not source.strip():
        message = "Name the type test, annex or paper that the spinning-loss factor comes from."
        raise Refusal(message, field="spinning_source")
    return tuple(values)


def _sum(wires: Sequence[Wire], quantity: str) -> Derived:
    if not wires:
        raise Refusal("Give the wires that were tested.", field="wires")
    total = newtons(sum(wire.counted_force_mn * wire.represents for wire in wires))
    groups: dict[tuple[str, Decimal], list[Wire]] = {}
    for wire in wires:
        groups.setdefault((wire.layer, wire.diameter_mm), []).append(wire)
    inputs = tuple(
        _group(number, *key, found) for number, (key, found) in enumerate(groups.items(), 1)
    )
    return Derived(
        quantity=quantity,
        symbol="ΣF",
        formula=f"ΣF = {' + '.join(given.symbol for given in inputs)}",
        inputs=inputs,
        source=METHODS,
        unrounded=total,
        stated=total.quantize(Decimal(1), rounding=ROUND_HALF_UP),
        unit="N",
        rounding=SUM_TO_NEWTON,
        basis="tensile tests of the wires, each times the wires it stands for",
        remarks=_retest_remark(wires),
    )


def _group(number: int, layer: str, diameter_mm: Decimal, wires: Sequence[Wire]) -> Given:
    force = newtons(sum(wire.counted_force_mn * wire.represents for wire in wires))
    count = sum(wire.represents for wire in wires)
    wires_word = "wire" if len(wires) == 1 else "wires"
    name = f"{len(wires)} {wires_word} of {trimmed(diameter_mm)} mm, {layer}, standing for {count}"
    return Given(f"S{number}", name, trimmed(force), "N")


def _retest_remark(wires: Sequence[Wire]) -> tuple[str, ...]:
    again = sum(wire.retest_force_mn is not None for wire in wires)
    if not again:
        return ()
    return (f"{again} tested twice: the lower force counts in the sum (own decision, safe side).",)


def _calculated(
    total: Derived, values: Sequence[Decimal], source: str, kind: str, method: str
) -> Derived:
    lowest = min(values)
    name = f"{kind} spinning-loss factor"
    if len(values) > 1:
        name += f", the lowest of {', '.join(plain(value) for value in values)}"
    # Of the exact sum: one that was rounded up would lift the force.
    unrounded = total.unrounded * lowest
    return Derived(
        quantity=f"calculated breaking force ({method})",
        symbol="Fcalc",
        formula="Fcalc = ΣF k",
        inputs=(
            Given("ΣF", f"{total.quantity}, exact", trimmed(total.unrounded), "N", total.source),
            Given("k", name, plain(lowest), "", Source(name=source, confidence="stated by it")),
        ),
        source=METHODS,
        unrounded=unrounded,
        stated=Decimal(int(unrounded)),
        unit="N",
        rounding=TO_NEWTON,
        basis=f"{method}: sum of the wires times the {kind} spinning-loss factor",
        rests_on=(total,),
        remarks=("It is no actual breaking force: only a break of the rope itself is.",),
    )
