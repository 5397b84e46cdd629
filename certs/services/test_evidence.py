"""What both kinds of test have in common: the force log, read and kept, and the order of times."""

from datetime import datetime

from django.utils import timezone

from certs.rules.load_log import LoadLog, read_log
from inventory.models import StoredFile
from inventory.rules.refusal import Refusal
from inventory.services.files import keep_log

MOST_LINES_TOLD = 50


class CannotRecord(Refusal):
    """A test cannot be recorded as it was given."""


def check_times(*, tested_at: datetime, at: datetime, made_at: datetime, made: str) -> None:
    """Refuse a test in the future, or on a day before the thing tested was there."""
    if tested_at > at:
        message = "The test lies in the future; check its date and time."
        raise CannotRecord(message, field="tested_at")
    if timezone.localdate(tested_at) < timezone.localdate(made_at):
        message = f"The test is dated before {made}; check its date."
        raise CannotRecord(message, field="tested_at")


def read_test_log(
    log: bytes | None, *, force_unit: str | None, time_unit: str | None
) -> LoadLog | None:
    """Read the force log of a test, when there is one. Raises UnreadableLog."""
    if log is None:
        return None
    return read_log(log, force_unit=force_unit or None, time_unit=time_unit or None)


def keep_test_log(log: bytes | None, *, name: str, at: datetime) -> StoredFile | None:
    """Keep the bytes of the log as they came, when there is one. Raises UnfitFile, CannotKeep."""
    return None if log is None else keep_log(content=log, name=name or "force-log.csv", at=at)


def line_texts(readings: LoadLog) -> list[str]:
    """Tell the lines of the log that were not used, the first fifty one by one."""
    texts = [f"Log, {problem}." for problem in readings.problems[:MOST_LINES_TOLD]]
    more = len(readings.problems) - len(texts)
    return [*texts, f"Log, {more} more lines were not used."] if more else texts
