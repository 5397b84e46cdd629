"""Issues many drafts as one batch: each certificate whole or not at all, and told one by one.

A batch is no record: what was issued is told by certificates and journal. So a line is settled
after its certificate was issued, and whoever takes a batch up again after a killed worker finds a
draft that is issued already and says so. How a worker comes by a batch is left to `certs.tasks`.
"""

import logging
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from django.db import transaction

from certs.models import Certificate, IssueBatch, IssueBatchLine
from certs.rules.batch_standing import BatchStanding, batch_standing
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from certs.services.issue import issue_certificate
from inventory.models import Person
from inventory.rules.refusal import Refusal
from inventory.services.guarded import add_row
from inventory.services.locks import lock_row
from inventory.services.numbering import ISSUE_BATCH, take_code

log = logging.getLogger(__name__)

MOST_DRAFTS: Final = 1000
_NAMED: Final = 10
NOT_BEGUN: Final = "The batch was stopped before it was begun."
THROWN_AWAY: Final = "The draft was thrown away."
TROUBLE: Final = (
    "The program itself failed on this paper, and nothing of it was issued. Issue the draft again;"
    " if that fails too, tell whoever keeps the program: its log says what happened."
)

_Outcome = IssueBatchLine.Outcome


class CannotBatch(Refusal):
    """The batch cannot be started or taken up as asked."""


def start_batch(*, draft_codes: Sequence[str], by: Person, at: datetime) -> IssueBatch:
    """Put drafts into a batch, in the order given; no worker is called for it here.

    Raises:
        NotAllowed: the person's role does not issue.
        CannotBatch: no draft, too many, or a code that is no draft.
    """
    require(by=by, act=ClaimAct.ISSUE_CERTIFICATE)
    codes = list(dict.fromkeys(draft_codes))
    if not codes:
        raise CannotBatch("Choose at least one draft.", field="drafts")
    if len(codes) > MOST_DRAFTS:
        message = f"A batch takes {MOST_DRAFTS} drafts at most; {len(codes)} were chosen."
        raise CannotBatch(message, field="drafts")
    _check_drafts(codes)
    with transaction.atomic():
        blank = IssueBatch(code=take_code(ISSUE_BATCH), started_at=at, started_by=by, moved_at=at)
        batch = add_row(blank, refusal=CannotBatch)
        IssueBatchLine.objects.bulk_create(
            IssueBatchLine(batch=batch, position=position, draft_code=code)
            for position, code in enumerate(codes, start=1)
        )
    return batch


def stop_batch(*, batch: IssueBatch, by: Person, at: datetime) -> IssueBatch:
    """Ask for a batch to be stopped after the paper that is being issued.

    Where nobody works on it, it is over at once.

    Raises:
        NotAllowed: the person's role does not issue.
        CannotBatch: it is over already.
    """
    require(by=by, act=ClaimAct.ISSUE_CERTIFICATE)
    with transaction.atomic():
        held = _unfinished(batch)
        is_quiet = _standing(held, now=at) == BatchStanding.QUIET
        held.stop_asked_at = held.stop_asked_at or at
        held.save(update_fields=["stop_asked_at"])
        if is_quiet:
            _close(held, at=at)
    return held


def take_up_batch(*, batch: IssueBatch, by: Person, at: datetime) -> IssueBatch:
    """Allow a batch on which nobody works to be worked on again, by whoever asks.

    Raises:
        NotAllowed: the person's role does not issue.
        CannotBatch: it is over, or somebody works on it.
    """
    require(by=by, act=ClaimAct.ISSUE_CERTIFICATE)
    with transaction.atomic():
        held = _unfinished(batch)
        if _standing(held, now=at) != BatchStanding.QUIET:
            message = f"Batch {held.code} is being worked on: it moved less than a minute ago."
            raise CannotBatch(message)
        held.moved_at = at
        held.save(update_fields=["moved_at"])
    return held


def settle_next(*, batch: IssueBatch, by: Person, at: datetime) -> bool:
    """Issue the next draft of a batch and note what became of it; tell whether to go on.

    With nothing left, or once a stop was asked for, the batch is closed. Two workers on one batch
    do no paper twice: a certificate is issued under lock, and the later one finds its number.
    """
    now = IssueBatch.objects.get(pk=batch.pk)
    if now.finished_at:
        return False
    waiting = now.lines.filter(outcome=_Outcome.WAITING).order_by("position")
    line = None if now.stop_asked_at else waiting.first()
    if line is None:
        with transaction.atomic():
            _close(lock_row(now), at=at)
        return False
    IssueBatch.objects.filter(pk=now.pk).update(moved_at=at)
    became = _issue(line.draft_code, by=by, at=at)
    IssueBatchLine.objects.filter(pk=line.pk, outcome=_Outcome.WAITING).update(
        outcome=became.outcome, number=became.number, reason=became.reason, settled_at=at
    )
    return True


@dataclass(frozen=True, slots=True)
class _Became:
    """What became of one draft."""

    outcome: str
    number: str = ""
    reason: str = ""


def _issue(code: str, *, by: Person, at: datetime) -> _Became:
    """Issue one draft. What the program itself fails on must not keep the others waiting."""
    found = Certificate.objects.filter(draft_code=code).first()
    if found is None:
        return _Became(_Outcome.STAYED, reason=THROWN_AWAY)
    if found.number:
        return _Became(_Outcome.ISSUED, number=found.number)
    try:
        issued = issue_certificate(certificate=found, by=by, at=at)
    except (Refusal, Certificate.DoesNotExist) as problem:
        return _left(found.pk, problem)
    except Exception:
        log.exception("a draft of a batch could not be issued")
        return _Became(_Outcome.STAYED, reason=TROUBLE)
    return _Became(_Outcome.ISSUED, number=str(issued.number))


def _left(pk: int, problem: Refusal | Certificate.DoesNotExist) -> _Became:
    """Tell why a draft was not issued; somebody else may have issued it at this very moment."""
    number = Certificate.objects.filter(pk=pk).values_list("number", flat=True).first()
    if number:
        return _Became(_Outcome.ISSUED, number=number)
    reason = problem.message if isinstance(problem, Refusal) else THROWN_AWAY
    return _Became(_Outcome.STAYED, reason=reason)


def _check_drafts(codes: Sequence[str]) -> None:
    drafts = Certificate.objects.filter(state=Certificate.State.DRAFT, draft_code__in=codes)
    known = set(drafts.values_list("draft_code", flat=True))
    wrong = [code for code in codes if code not in known]
    if wrong:
        more = f" and {len(wrong) - _NAMED} more" if len(wrong) > _NAMED else ""
        message = f"Not a draft, or a draft no longer: {', '.join(wrong[:_NAMED])}{more}."
        raise CannotBatch(message, field="drafts")


def _unfinished(batch: IssueBatch) -> IssueBatch:
    held = lock_row(batch)
    if held.finished_at:
        raise CannotBatch(f"Batch {held.code} is over already.")
    return held


def _standing(batch: IssueBatch, *, now: datetime) -> BatchStanding:
    return batch_standing(
        moved_at=batch.moved_at,
        is_stopped=batch.stop_asked_at is not None,
        is_finished=batch.finished_at is not None,
        now=now,
    )


def _close(held: IssueBatch, *, at: datetime) -> None:
    """End a batch that is locked; what was not begun stays a draft."""
    held.lines.filter(outcome=_Outcome.WAITING).update(
        outcome=_Outcome.LEFT_OUT, reason=NOT_BEGUN, settled_at=at
    )
    held.finished_at = held.moved_at = max(at, held.started_at)
    held.save(update_fields=["finished_at", "moved_at"])
