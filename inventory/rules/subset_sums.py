"""Which sums a set of lengths can give, and which of the lengths give one of them.

Sums are kept as the bits of one whole number, so that all of them are shifted at once.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Self


@dataclass(frozen=True, slots=True)
class SubsetSums:
    """The sums, up to a limit, of the first so many lengths: bit s of `reached[n]` is sum s."""

    lengths: tuple[int, ...]
    reached: tuple[int, ...]

    @classmethod
    def of(cls, lengths: Sequence[int], *, most: int, only_most: bool = False) -> Self:
        """Find every sum that is not above `most`.

        With `only_most` the lengths after those that give `most` itself are not looked at.
        """
        inside = (1 << (most + 1)) - 1
        reached = [1]
        for length in lengths:
            if only_most and reached[-1] >> most:
                break
            reached.append((reached[-1] | (reached[-1] << length)) & inside)
        return cls(tuple(lengths[: len(reached) - 1]), tuple(reached))

    def highest(self, *, allowed: int) -> int | None:
        """Return the highest sum whose bit is set in `allowed`; None if there is none."""
        found = self.reached[-1] & allowed
        return found.bit_length() - 1 if found else None

    def parts_of(self, total: int) -> list[int]:
        """Return the places of lengths that give this sum, which must be one of them."""
        places = []
        for place in range(len(self.lengths) - 1, -1, -1):
            if not (self.reached[place] >> total) & 1:
                places.append(place)
                total -= self.lengths[place]
        return places[::-1]


def up_to(most: int) -> int:
    """Return the bits of 0 to `most`; none if `most` is below 0."""
    return (1 << (most + 1)) - 1 if most >= 0 else 0
