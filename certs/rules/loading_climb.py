"""The climb of a load up to its peak, as a force log shows it: where it passes a given force.

Readings that stand out singly are left out. What the climb means is decided by `loading_rate`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

import numpy as np

from certs.rules.load_spikes import Floats, find_spikes, running_median
from certs.rules.log_rows import Sample
from inventory.rules.refusal import Refusal

# ISO 3108:2017 [read]: loading may be fast up to this part of the required force.
FAST_UP_TO: Final = Decimal("0.8")


@dataclass(frozen=True, slots=True, eq=False)
class Climb:
    """Readings up to the peak, spikes left out: times in s, forces in N as read and quieted.

    `required_n` is the force in N that the rope had to reach.
    """

    times: Floats
    forces: Floats
    quiet: Floats
    required_n: int

    @classmethod
    def of(cls, samples: Sequence[Sample], *, required_n: int) -> "Climb":
        """Take the climb out of a log in strictly rising order of time. Raises `Refusal` if empty.

        Forces are quieted by a running median of five.
        """
        if not samples:
            message = "A log without readings shows nothing."
            raise Refusal(message, field="log")
        times = np.array([sample.time_s for sample in samples], dtype=np.float64)
        forces = np.array([sample.force_n for sample in samples], dtype=np.float64)
        is_spike = find_spikes(times, forces)
        times, forces = times[~is_spike], forces[~is_spike]
        end = int(np.argmax(forces)) + 1
        times, forces = times[:end], forces[:end]
        return cls(times, forces, running_median(forces), required_n)

    @property
    def mark_n(self) -> float:
        """80 % of the required force in N."""
        return float(FAST_UP_TO * self.required_n)

    @property
    def peak_n(self) -> float:
        """The greatest reading in N that is no spike."""
        return float(self.forces[-1])

    @property
    def peak_at_s(self) -> float:
        """When that reading was taken, in s."""
        return float(self.times[-1])

    @property
    def is_marked(self) -> bool:
        """Whether the load reached 80 % of the required force at all."""
        return self.peak_n >= self.mark_n

    @property
    def slow(self) -> tuple[Floats, Floats]:
        """Times and forces from 80 % of that force to the peak; none where it fell short."""
        start = self._first_at(self.mark_n) if self.is_marked else self.times.size
        return self.times[start:], self.forces[start:]

    def passed_at(self, force_n: float) -> float | None:
        """Return when (s) a force was first passed; None where the log does not show it.

        The time lies on the line between the two readings beside it.
        """
        after = self._first_at(force_n)
        if after == 0 or self.quiet[after] < force_n:
            return None
        low, high = self.quiet[after - 1], self.quiet[after]
        start, end = self.times[after - 1], self.times[after]
        return float(start + (force_n - low) / (high - low) * (end - start))

    def step_at(self, force_n: float) -> float:
        """Return the time (s) between the readings beside the passing of a force; 0 if unseen."""
        after = self._first_at(force_n)
        return float(self.times[after] - self.times[after - 1]) if after else 0.0

    def _first_at(self, force_n: float) -> int:
        """Return the index of the first quieted reading at or above a force; the last if none."""
        found = np.flatnonzero(self.quiet >= force_n)
        return int(found[0]) if found.size else self.quiet.size - 1
