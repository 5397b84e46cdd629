"""Finds batches of drafts, how far each is, and what became of their drafts.

Whether someone works on one is decided by `certs.rules.batch_standing`.
"""

from dataclasses import dataclass
from datetime import datetime

from django.db.models import Count, Q, QuerySet

from certs.models import Certificate, IssueBatch, IssueBatchLine
from certs.rules.batch_standing import BatchProgress, batch_progress, batch_standing
from inventory.models import StoredFile

_OUTCOMES = tuple(IssueBatchLine.Outcome.values)


@dataclass(frozen=True, slots=True)
class FailedLine:
    """A draft that was not issued, and why; `is_draft` while it is there to be mended."""

    draft_code: str
    outcome: str
    reason: str
    is_draft: bool


def batches() -> QuerySet[IssueBatch]:
    """Give all batches, the latest first, each with how many of its drafts came to what."""
    counted = {
        f"{outcome}_count": Count("lines", filter=Q(lines__outcome=outcome))
        for outcome in _OUTCOMES
    }
    rows = IssueBatch.objects.select_related("started_by").annotate(**counted)
    return rows.order_by("-id")


def batch_of(code: str) -> IssueBatch | None:
    """Return a batch by its code."""
    return batches().filter(code=code.strip().upper()).first()


def progress_of(batch: IssueBatch, *, now: datetime) -> BatchProgress:
    """Tell how far a batch is that came from `batches`."""
    counts = {outcome: getattr(batch, f"{outcome}_count") for outcome in _OUTCOMES}
    standing = batch_standing(
        moved_at=batch.moved_at,
        is_stopped=batch.stop_asked_at is not None,
        is_finished=batch.finished_at is not None,
        now=now,
    )
    return batch_progress(counts, standing)


def failed_lines(batch: IssueBatch) -> list[FailedLine]:
    """Give what was not issued, in the order of the batch."""
    outcomes = (IssueBatchLine.Outcome.STAYED, IssueBatchLine.Outcome.LEFT_OUT)
    lines = list(batch.lines.filter(outcome__in=outcomes).order_by("position"))
    drafts = Certificate.objects.filter(state=Certificate.State.DRAFT)
    still = drafts.filter(draft_code__in=[line.draft_code for line in lines])
    known = set(still.values_list("draft_code", flat=True))
    return [
        FailedLine(line.draft_code, line.outcome, line.reason, line.draft_code in known)
        for line in lines
    ]


def lines_of(batch: IssueBatch) -> QuerySet[IssueBatchLine]:
    """Give all lines in the order of the batch."""
    return batch.lines.order_by("position")


def papers_of_batch(batch: IssueBatch) -> list[tuple[str, StoredFile]]:
    """Give number and PDF of each certificate that was issued, in the order of the batch."""
    numbers = list(
        lines_of(batch)
        .filter(outcome=IssueBatchLine.Outcome.ISSUED)
        .values_list("number", flat=True)
    )
    issued = Certificate.objects.filter(number__in=numbers).select_related("pdf")
    kept = {row.number: row.pdf for row in issued}
    return [(number, pdf) for number in numbers if (pdf := kept.get(number)) is not None]
