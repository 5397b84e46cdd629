"""Decides in which words a batch of drafts is told, and how its drafts stand in a table."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType
from typing import Final

from certs.models import IssueBatch, IssueBatchLine
from certs.pages.addresses import page_of
from certs.queries.issue_batches import progress_of
from certs.rules.batch_standing import BatchProgress, BatchStanding
from inventory.pages.reading import moment
from inventory.pages.table import Cell, Column, Line, Table, build_table

_STATES: Final = MappingProxyType(
    {
        BatchStanding.AT_WORK: ("being issued", "open"),
        BatchStanding.STOPPING: ("stopping", "open"),
        BatchStanding.QUIET: ("nobody works on it", "wait"),
        BatchStanding.FINISHED: ("over", "good"),
    }
)
_SHAPES: Final = MappingProxyType(
    {"waiting": "open", "issued": "good", "stayed": "wait", "left_out": "past"}
)
_QUARTERS: Final = (
    "It has begun.",
    "A quarter is done.",
    "Half is done.",
    "Three quarters are done.",
)


@dataclass(frozen=True, slots=True)
class BatchTold:
    """How far a batch is, in words; `said` changes at each quarter only, for it is read aloud."""

    progress: BatchProgress
    word: str
    shape: str
    sums: str
    said: str


def told_batch(batch: IssueBatch, progress: BatchProgress) -> BatchTold:
    """Tell a batch."""
    word, shape = _STATES[progress.standing]
    if progress.is_finished and progress.issued < progress.total:
        shape = "wait"
    sums = _sums(progress)
    said = f"{batch.code} is over: {sums}" if progress.is_finished else _QUARTERS[progress.quarters]
    if progress.is_quiet:
        said = "Nobody has worked on it for a minute."
    return BatchTold(progress, word, shape, sums, said)


def table_of_batches(rows: Iterable[IssueBatch], *, now: datetime) -> Table:
    """Put batches into a table."""
    return build_table(
        columns=("Batch", "Handed over", "By", Column("Drafts", is_number=True), "State"),
        lines=(_batch_line(row, progress_of(row, now=now)) for row in rows),
        folds=True,
    )


def table_of_lines(rows: Iterable[IssueBatchLine]) -> Table:
    """Put the drafts of a batch into a table."""
    return build_table(
        columns=("Draft", "What became of it", "Certificate", "Why not", "When"),
        lines=(
            Line(
                (
                    row.draft_code
                    if row.number
                    else Cell(row.draft_code, href=page_of(row.draft_code)),
                    Cell(row.get_outcome_display(), shape=_SHAPES[row.outcome]),
                    Cell(row.number, href=page_of(row.number)) if row.number else "",
                    row.reason,
                    moment(row.settled_at),
                )
            )
            for row in rows
        ),
        folds=True,
    )


def _batch_line(batch: IssueBatch, progress: BatchProgress) -> Line:
    told = told_batch(batch, progress)
    return Line(
        (
            Cell(batch.code, href=page_of(batch.code)),
            moment(batch.started_at),
            str(batch.started_by),
            str(progress.total),
            Cell(told.word, shape=told.shape, note=told.sums),
        )
    )


def _sums(progress: BatchProgress) -> str:
    parts = [f"{progress.issued} issued"]
    if progress.stayed:
        parts.append(f"{progress.stayed} stayed {'a draft' if progress.stayed == 1 else 'drafts'}")
    if progress.left_out:
        parts.append(f"{progress.left_out} not begun")
    if progress.waiting:
        parts.append(f"{progress.waiting} waiting")
    return ", ".join(parts) + "."
