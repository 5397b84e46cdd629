"""Times two ways of doing the same thing in turn, so that a busy machine slows both alike."""

import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass

Work = Callable[[], object]


@dataclass(frozen=True, slots=True)
class Ratio:
    """Median of ours over the peer's, pair by pair; `low` and `high` are the quartiles."""

    name: str
    peer: str
    ours_ms: float
    peer_ms: float
    median: float
    low: float
    high: float
    target: float | None

    def line(self) -> str:
        """Give one line of the table."""
        target = "" if self.target is None else f"≤ {self.target:g}"
        return (
            f"{self.name:<34}{self.ours_ms:>10.2f}{self.peer_ms:>10.2f}"
            f"{self.median:>8.2f}  {self.low:.2f} to {self.high:.2f}  {target:<8}{self.peer}"
        )


def compare(
    name: str, *, ours: Work, peer: Work, against: str, pairs: int, target: float | None = None
) -> Ratio:
    """Run both ways `pairs` times in turn after one warm-up of each."""
    ours()
    peer()
    times = [(_seconds(ours), _seconds(peer)) for _ in range(pairs)]
    ratios = sorted(mine / theirs for mine, theirs in times)
    quartiles = statistics.quantiles(ratios, n=4)
    return Ratio(
        name=name,
        peer=against,
        ours_ms=1000 * statistics.median(mine for mine, _ in times),
        peer_ms=1000 * statistics.median(theirs for _, theirs in times),
        median=statistics.median(ratios),
        low=quartiles[0],
        high=quartiles[2],
        target=target,
    )


def _seconds(work: Work) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start
