"""Decides until when, and by whom, an act may be undone at once, without the reversing role.

A slip is noticed by the one who made it, and soon; whatever is noticed later has a reason that
somebody else must judge. Ten minutes: common practice, no source. That nothing was made of the
thing meanwhile is guarded in the database.
"""

from datetime import datetime, timedelta
from typing import Final

UNDO_WITHIN: Final = timedelta(minutes=10)
UNDO_MINUTES: Final = int(UNDO_WITHIN.total_seconds()) // 60


def why_not_undone(*, done_at: datetime, at: datetime, is_by_the_same: bool) -> str:
    """Say why an act done then may not be undone now, as a sentence; empty if it may.

    Args:
        is_by_the_same: whether the person who asks is the one who did it.
    """
    if not is_by_the_same:
        return (
            "Only the person who recorded it can undo it. Ask the QA officer to reverse it, with"
            " the reason."
        )
    if at - done_at > UNDO_WITHIN:
        return (
            f"It was recorded more than {UNDO_MINUTES} minutes ago and cannot be undone any more."
            " Ask the QA officer to reverse it, with the reason."
        )
    return ""
