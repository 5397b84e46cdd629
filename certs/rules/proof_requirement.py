"""What a proof-load test must show on a machine of known error: a force, for a time, below a limit.

Where the load comes from is decided elsewhere (`proof_regime`); whether a log shows it, by
`proof_test`.
"""

from dataclasses import dataclass
from decimal import Decimal

from certs.rules.force_to_show import (
    better_class,
    least_indicated_n,
    most_indicated_n,
    remedy,
    surely_above_n,
)
from certs.rules.machine import MachineClass


@dataclass(frozen=True, slots=True)
class Requirement:
    """What must be shown: at least this force (N) for this time (s), and never above the ceiling.

    `machine_q_pct` is the relative error in per cent that the machine's class allows.
    `needs_ceiling`: there is a load that may not be passed, be it known (`ceiling_n`) or not.
    `classes` are the classes of machines held, to name one that would serve.
    """

    required_n: int
    required_hold_s: int
    machine_q_pct: Decimal
    ceiling_n: int | None = None
    needs_ceiling: bool = False
    classes: tuple[MachineClass, ...] = ()

    @property
    def least_indicated_n(self) -> int:
        """Return what the machine must show, to apply the load whatever its error."""
        return least_indicated_n(self.required_n, self.machine_q_pct)

    @property
    def most_indicated_n(self) -> int | None:
        """Return what the machine may show, to stay below the ceiling whatever its error."""
        if self.ceiling_n is None:
            return None
        return most_indicated_n(self.ceiling_n, self.machine_q_pct)

    @property
    def surely_above_n(self) -> int | None:
        """Return the most that does not surely exceed the ceiling."""
        if self.ceiling_n is None:
            return None
        return surely_above_n(self.ceiling_n, self.machine_q_pct)

    @property
    def remedy(self) -> str:
        """Say what class of machine could prove both bounds; nothing where none are held."""
        if self.ceiling_n is None or not self.classes:
            return ""
        serving = better_class(
            required_n=self.required_n,
            ceiling_n=self.ceiling_n,
            q_pct=self.machine_q_pct,
            rows=self.classes,
        )
        return f" {remedy(serving, is_in_order=self.required_n <= self.ceiling_n)}"
