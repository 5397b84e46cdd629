"""The force that a testing machine must show, so that the true force keeps its limits.

A machine of a class may show more or less than the true force by the error q of that class. So more
than the proof load must be shown, and less than a load not to be passed; both bounds may conflict.
Whether a log shows such a force is decided by `proof_test`.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Final

from certs.rules.derived import Derived, Given, Source, trimmed
from certs.rules.machine import MachineClass, column_source

UP: Final = "up to the whole newton"
DOWN: Final = "down to the whole newton"
# From q = (indicated - true) / true, which is how the standard defines the error.
REASONED: Final = Source(
    "follows from q = (indicated - true) / true (ISO 7500-1, relative error)", "", "derived"
)


@dataclass(frozen=True, slots=True)
class ShownForce:
    """What to show: at least `least`, and at most `most` where a load may not be passed.

    `serving` is the plainest class that has a force which keeps both, where this one has none.
    Bounds are out of order where what may not be passed lies below what must be reached.
    """

    least: Derived
    most: Derived | None
    machine_class: str
    serving: MachineClass | None
    is_in_order: bool = True

    @property
    def is_possible(self) -> bool:
        """Say whether any reading of this machine proves all that is asked."""
        return self.most is None or self.least.stated <= self.most.stated

    @property
    def told(self) -> str:
        """Say what to show, in one or two sentences."""
        if self.most is None:
            return f"Show at least {self.least.text}."
        if self.is_possible:
            return f"Show at least {self.least.text} and at most {self.most.text}."
        return (
            f"No reading of a machine of class {self.machine_class} proves both bounds: at least"
            f" {self.least.text} is needed, at most {self.most.text} allowed."
            f" {remedy(self.serving, is_in_order=self.is_in_order)}"
        )


def least_indicated_n(required_n: int, q_pct: Decimal) -> int:
    """Return P (1 + q) in N, rounded up: showing this, the machine surely applies P."""
    return int(_times(required_n, 100 + q_pct).to_integral_value(ROUND_CEILING))


def most_indicated_n(ceiling_n: int, q_pct: Decimal) -> int:
    """Return C (1 - q) in N, rounded down: showing this, the machine surely stays below C."""
    return int(_times(ceiling_n, 100 - q_pct).to_integral_value(ROUND_FLOOR))


def surely_above_n(ceiling_n: int, q_pct: Decimal) -> int:
    """Return C (1 + q) in N, rounded down: showing more, the machine surely exceeds C."""
    return int(_times(ceiling_n, 100 + q_pct).to_integral_value(ROUND_FLOOR))


def force_to_show(
    *,
    required_n: int,
    row: MachineClass,
    rows: Iterable[MachineClass],
    ceiling_n: int | None = None,
    resolution_n: int | None = None,
) -> ShownForce:
    """Give what a machine of the class in `row` must show for a proof load and its upper limit (N).

    `rows` are the classes held; `resolution_n` is the step of the display, where known.
    """
    return ShownForce(
        least=_least(required_n, row, resolution_n),
        most=None if ceiling_n is None else _most(ceiling_n, row, resolution_n),
        machine_class=row.name,
        serving=better_class(
            required_n=required_n, ceiling_n=ceiling_n, q_pct=row.q_pct, rows=rows
        ),
        is_in_order=ceiling_n is None or required_n <= ceiling_n,
    )


def better_class(
    *, required_n: int, ceiling_n: int | None, q_pct: Decimal, rows: Iterable[MachineClass]
) -> MachineClass | None:
    """Return the plainest class better than `q_pct` that can prove both bounds; None for none."""
    serving = (
        row for row in rows if row.q_pct < q_pct and _proves_both(required_n, ceiling_n, row.q_pct)
    )
    return max(serving, key=lambda row: row.q_pct, default=None)


def remedy(serving: MachineClass | None, *, is_in_order: bool) -> str:
    """Say which machine would prove both bounds, or what to check where none can."""
    if not is_in_order:
        return "The load not to be passed is below the proof load itself: check both figures."
    if serving is None:
        return "No class held here would serve: the two limits lie too close together."
    return f"A machine of class {serving.name} or better would serve."


def _proves_both(required_n: int, ceiling_n: int | None, q_pct: Decimal) -> bool:
    if ceiling_n is None:
        return True
    return least_indicated_n(required_n, q_pct) <= most_indicated_n(ceiling_n, q_pct)


def _least(required_n: int, row: MachineClass, resolution_n: int | None) -> Derived:
    stated = least_indicated_n(required_n, row.q_pct)
    return Derived(
        quantity="least force to show",
        symbol="F",
        formula="F = P (1 + q / 100)",
        inputs=(Given("P", "proof load", str(required_n), "N"), _error(row)),
        source=REASONED,
        unrounded=_times(required_n, 100 + row.q_pct),
        stated=Decimal(stated),
        unit="N",
        rounding=UP,
        basis=f"testing machine of class {row.name}",
        remarks=_on_display(stated, resolution_n, is_least=True),
    )


def _most(ceiling_n: int, row: MachineClass, resolution_n: int | None) -> Derived:
    stated = most_indicated_n(ceiling_n, row.q_pct)
    return Derived(
        quantity="greatest force to show",
        symbol="F",
        formula="F = C (1 - q / 100)",
        inputs=(Given("C", "load not to be passed", str(ceiling_n), "N"), _error(row)),
        source=REASONED,
        unrounded=_times(ceiling_n, 100 - row.q_pct),
        stated=Decimal(stated),
        unit="N",
        rounding=DOWN,
        basis=f"testing machine of class {row.name}",
        remarks=_on_display(stated, resolution_n, is_least=False),
    )


def _error(row: MachineClass) -> Given:
    name = f"greatest relative error of the force, class {row.name}"
    return Given("q", name, trimmed(row.q_pct), "%", column_source(row, "q"))


def _on_display(stated_n: int, resolution_n: int | None, *, is_least: bool) -> tuple[str, ...]:
    """Say what a display in steps shows, to the safe side, where it cannot show the newton."""
    if not resolution_n or stated_n % resolution_n == 0:
        return ()
    steps = stated_n // resolution_n + is_least
    return (f"On a display in steps of {resolution_n} N that is {steps * resolution_n} N.",)


def _times(force_n: int, percent: Decimal) -> Decimal:
    return force_n * percent / 100
