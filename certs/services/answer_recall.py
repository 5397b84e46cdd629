"""Keeps what became of the letter of a recall: when it left the house, and who answered."""

from datetime import datetime

from django.db import transaction

from certs.models import RecallNotice
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from inventory.models import Person
from inventory.rules.canonical import JsonValue
from inventory.rules.refusal import Refusal
from inventory.services.guarded import change_row
from inventory.services.journal import append, text_hash
from inventory.services.locks import lock_row


class CannotRecordAnswer(Refusal):
    """The sending or the answer cannot be recorded so."""


def record_sent(*, notice: RecallNotice, how: str, by: Person, at: datetime) -> RecallNotice:
    """Record that a letter left the house now, and how.

    Raises:
        NotAllowed: the person's role writes no recalls.
        CannotRecordAnswer: it was sent before, or without a word of how.
    """
    require(by=by, act=ClaimAct.WRITE_RECALL)
    if not how.strip():
        message = "Say how it was sent: by post, by e-mail, by hand."
        raise CannotRecordAnswer(message, field="how")
    with transaction.atomic():
        locked = lock_row(notice)
        if locked.sent_at is not None:
            raise CannotRecordAnswer(f"{locked.code} was sent already.")
        locked.sent_at, locked.sent_by, locked.sent_how = at, by, how.strip()
        change_row(locked, "sent_at", "sent_by", "sent_how", refusal=CannotRecordAnswer)
        detail: dict[str, JsonValue] = {"how_sha256": text_hash(locked.sent_how)}
        _write_down(locked, deed="send", detail=detail, by=by, at=at)
    return locked


def record_acknowledgement(
    *, notice: RecallNotice, who: str, when: datetime, note: str = "", by: Person, at: datetime
) -> RecallNotice:
    """Record that the customer answered.

    Args:
        who: who answered for the customer; it is no part of the journal.
        when: the moment of the answer, not before the letter was sent and not in the future.
        note: what was found of the items.

    Raises:
        NotAllowed: the person's role writes no recalls.
        CannotRecordAnswer: not sent yet, answered already, by nobody, or at no such moment.
    """
    require(by=by, act=ClaimAct.WRITE_RECALL)
    if not who.strip():
        message = "Say who answered: a name, or the office that did."
        raise CannotRecordAnswer(message, field="who")
    with transaction.atomic():
        locked = lock_row(notice)
        _check_moment(locked, when=when, at=at)
        locked.acknowledged_at, locked.acknowledged_by = when, who.strip()
        locked.acknowledgement, locked.acknowledgement_recorded_by = note.strip(), by
        change_row(
            locked,
            "acknowledged_at",
            "acknowledged_by",
            "acknowledgement",
            "acknowledgement_recorded_by",
            refusal=CannotRecordAnswer,
        )
        detail: dict[str, JsonValue] = {"when": when.isoformat()}
        _write_down(locked, deed="acknowledge", detail=detail, by=by, at=at)
    return locked


def _check_moment(notice: RecallNotice, *, when: datetime, at: datetime) -> None:
    if notice.sent_at is None:
        raise CannotRecordAnswer(f"{notice.code} was not sent yet: record that first.")
    if notice.acknowledged_at is not None:
        raise CannotRecordAnswer(f"{notice.code} is answered already.")
    # People note the minute.
    if when < notice.sent_at.replace(second=0, microsecond=0):
        message = "It cannot have been answered before it was sent."
        raise CannotRecordAnswer(message, field="when")
    if when > at:
        message = "This moment is still to come."
        raise CannotRecordAnswer(message, field="when")


def _write_down(
    notice: RecallNotice, *, deed: str, detail: dict[str, JsonValue], by: Person, at: datetime
) -> None:
    append(
        at=at,
        by=by,
        act=ClaimAct.WRITE_RECALL,
        subject=notice.code,
        detail={"deed": deed, **detail},
        rows=[notice],
    )
