"""Parts codes into as many as one statement takes: 32 766 values in SQLite as built by default."""

from collections.abc import Collection, Iterator
from typing import Final

MOST_AT_ONCE: Final = 30_000


def in_batches(codes: Collection[str], *, times: int = 1) -> Iterator[list[str]]:
    """Yield the codes in order, no more at once than a statement takes.

    Args:
        times: how often the statement names each of them.
    """
    ordered, step = sorted(codes), MOST_AT_ONCE // times
    for start in range(0, len(ordered), step):
        yield ordered[start : start + step]
