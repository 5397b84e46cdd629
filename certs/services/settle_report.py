"""Settles a report from site: holds what was reported, closes it, forgets who reported it."""

from datetime import datetime

from django.db import transaction

from certs.models import SiteReport
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from inventory.models import Hold, Person
from inventory.queries.hold_subject import Holdable
from inventory.rules.canonical import JsonValue
from inventory.rules.refusal import Refusal
from inventory.services.guarded import change_row
from inventory.services.holds import place_hold
from inventory.services.journal import append, text_hash
from inventory.services.locks import lock_row


class CannotSettle(Refusal):
    """The report cannot be settled so."""


def hold_reported(
    *, report: SiteReport, subject: Holdable, reason: str, by: Person, at: datetime
) -> Hold:
    """Put what was reported, or what it was made of, on hold, and name the hold on the report.

    Raises:
        NotAllowed: the person's role settles no reports.
        CannotSettle: the report is closed, or names a hold already.
        CannotHold: no reason.
    """
    require(by=by, act=ClaimAct.SETTLE_REPORT)
    with transaction.atomic():
        locked = _open(report)
        if locked.hold_id is not None:
            message = f"{locked.code} names a hold already; place another from the thing itself."
            raise CannotSettle(message)
        hold = place_hold(subject=subject, reason=reason, by=by, at=at)
        locked.hold = hold
        change_row(locked, "hold", refusal=CannotSettle)
        _write_down(locked, deed="hold", detail={"hold": hold.code}, by=by, at=at)
    return hold


def close_report(*, report: SiteReport, reason: str, by: Person, at: datetime) -> SiteReport:
    """Close a report with what was found out. A hold that was placed stands until released.

    Raises:
        NotAllowed: the person's role settles no reports.
        CannotSettle: no reason, or closed already.
    """
    require(by=by, act=ClaimAct.SETTLE_REPORT)
    if not reason.strip():
        message = "Say what was found out and done; it stays on record."
        raise CannotSettle(message, field="reason")
    with transaction.atomic():
        locked = _open(report)
        locked.closed_at, locked.closed_by, locked.close_reason = at, by, reason.strip()
        change_row(locked, "closed_at", "closed_by", "close_reason", refusal=CannotSettle)
        detail: dict[str, JsonValue] = {"reason_sha256": text_hash(locked.close_reason)}
        _write_down(locked, deed="close", detail=detail, by=by, at=at)
    return locked


def forget_contact(*, report: SiteReport, by: Person, at: datetime) -> SiteReport:
    """Forget how the reporter can be reached. What he reported stays.

    Raises:
        NotAllowed: the person's role settles no reports.
        CannotSettle: nothing of the kind is on record.
    """
    require(by=by, act=ClaimAct.SETTLE_REPORT)
    with transaction.atomic():
        locked = lock_row(report)
        if not locked.contact:
            raise CannotSettle(f"No contact is on record for {locked.code}.")
        locked.contact = ""
        change_row(locked, "contact", refusal=CannotSettle)
        _write_down(locked, deed="forget_contact", detail={}, by=by, at=at)
    return locked


def _open(report: SiteReport) -> SiteReport:
    locked = lock_row(report)
    if locked.closed_at is not None:
        raise CannotSettle(f"{locked.code} is closed already.")
    return locked


def _write_down(
    report: SiteReport, *, deed: str, detail: dict[str, JsonValue], by: Person, at: datetime
) -> None:
    append(
        at=at,
        by=by,
        act=ClaimAct.SETTLE_REPORT,
        subject=report.code,
        detail={"deed": deed, **detail},
        rows=[report],
    )
