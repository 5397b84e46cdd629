"""Decides how a batch of drafts stands: whether someone works on it, and how far it is.

What becomes of each draft is decided by `certs.services.issue_batch`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from typing import Final

# A paper takes a second or so, and up to a minute where a time-stamp service is slow.
QUIET_FOR: Final = timedelta(minutes=1)
_QUARTERS: Final = 4


class BatchStanding(StrEnum):
    """Whether someone works on a batch."""

    AT_WORK = "at_work"
    STOPPING = "stopping"
    QUIET = "quiet"
    FINISHED = "finished"


@dataclass(frozen=True, slots=True)
class BatchProgress:
    """How many drafts of a batch are issued, stayed drafts, were not begun, or wait."""

    standing: BatchStanding
    issued: int = 0
    stayed: int = 0
    left_out: int = 0
    waiting: int = 0

    @property
    def total(self) -> int:
        """Count all drafts of the batch."""
        return self.settled + self.waiting

    @property
    def settled(self) -> int:
        """Count what nothing more will be done about."""
        return self.issued + self.stayed + self.left_out

    @property
    def quarters(self) -> int:
        """Count the full quarters that are settled: 4 when everything is."""
        return _QUARTERS * self.settled // self.total if self.total else _QUARTERS

    @property
    def is_finished(self) -> bool:
        """Tell whether it is over."""
        return self.standing == BatchStanding.FINISHED

    @property
    def is_quiet(self) -> bool:
        """Tell whether nobody works on it though drafts wait."""
        return self.standing == BatchStanding.QUIET


def batch_standing(
    *, moved_at: datetime, is_stopped: bool, is_finished: bool, now: datetime
) -> BatchStanding:
    """Tell whether someone works on a batch.

    Args:
        moved_at: when a worker last moved it on.
        is_stopped: whether somebody asked for it to be stopped.
        now: when this is asked.
    """
    if is_finished:
        return BatchStanding.FINISHED
    if now - moved_at > QUIET_FOR:
        return BatchStanding.QUIET
    return BatchStanding.STOPPING if is_stopped else BatchStanding.AT_WORK


def batch_progress(counts: Mapping[str, int], standing: BatchStanding) -> BatchProgress:
    """Put counts by outcome together; an outcome without a count has none."""
    return BatchProgress(
        standing,
        issued=counts.get("issued", 0),
        stayed=counts.get("stayed", 0),
        left_out=counts.get("left_out", 0),
        waiting=counts.get("waiting", 0),
    )
