"""Places and releases holds. What a hold reaches is found by the genealogy."""

from datetime import datetime

from django.db import transaction

from inventory.models import (
    Assembly,
    CutPiece,
    FittingLot,
    Heat,
    Hold,
    Person,
    Reel,
    TestingMachine,
)
from inventory.queries.hold_subject import Holdable, subject_of
from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.rules.units import format_metres
from inventory.services import journal, numbering
from inventory.services.authority import require
from inventory.services.guarded import add_row, change_row
from inventory.services.locks import lock_row

_NAMES = {
    Heat: "heat",
    Reel: "reel",
    FittingLot: "fitting_lot",
    TestingMachine: "testing_machine",
    CutPiece: "piece",
    Assembly: "assembly",
}


class CannotHold(Refusal):
    """A hold cannot be placed or released so."""


def place_hold(
    *,
    subject: Holdable,
    reason: str,
    from_mm: int | None = None,
    to_mm: int | None = None,
    by: Person,
    at: datetime,
) -> Hold:
    """Put a thing on hold, and with it everything made from it.

    Args:
        from_mm: of a reel only: the stretch in doubt, in its metres; None for all of it.

    Raises:
        CannotHold: no reason, or a stretch that is not the reel's.
    """
    require(by=by, act=Act.PLACE_HOLD)
    stretch = _stretch(subject, from_mm, to_mm)
    if not reason.strip():
        message = "Say what is in doubt; whoever meets the hold reads it."
        raise CannotHold(message, field="reason")
    with transaction.atomic():
        locked = lock_row(subject)
        hold = Hold(
            code=numbering.take_code(numbering.HOLD),
            from_mm=stretch.from_mm if stretch else None,
            to_mm=stretch.to_mm if stretch else None,
            reason=reason.strip(),
            placed_at=at,
            placed_by=by,
        )
        setattr(hold, _NAMES[type(locked)], locked)
        add_row(hold, refusal=CannotHold)
        _write_down(hold, act=Act.PLACE_HOLD, by=by, at=at)
    return hold


def release_hold(*, hold: Hold, reason: str, by: Person, at: datetime) -> Hold:
    """Release a hold; it stays on record with the reason of both.

    Raises:
        CannotHold: no reason, or released already.
    """
    require(by=by, act=Act.RELEASE_HOLD)
    if not reason.strip():
        message = "Say how the doubt was settled; it stays on record."
        raise CannotHold(message, field="reason")
    with transaction.atomic():
        locked = lock_row(hold)
        if locked.released_at is not None:
            message = f"Hold {locked.code} is released already."
            raise CannotHold(message)
        locked.released_at, locked.released_by, locked.release_reason = at, by, reason.strip()
        change_row(locked, "released_at", "released_by", "release_reason", refusal=CannotHold)
        _write_down(locked, act=Act.RELEASE_HOLD, by=by, at=at)
    return locked


def _stretch(subject: Holdable, from_mm: int | None, to_mm: int | None) -> Stretch | None:
    if from_mm is None and to_mm is None:
        return None
    if not isinstance(subject, Reel):
        message = "Only a reel is put on hold by the metre."
        raise CannotHold(message, field="from_mm")
    if from_mm is None or to_mm is None:
        message = "Give both ends of the stretch, or neither for the whole reel."
        raise CannotHold(message, field="to_mm")
    stretch = Stretch(from_mm, to_mm)
    if stretch.to_mm > subject.length_mm:
        message = f"The reel ends at {format_metres(subject.length_mm)}."
        raise CannotHold(message, field="to_mm")
    return stretch


def _write_down(hold: Hold, *, act: Act, by: Person, at: datetime) -> None:
    journal.append(
        at=at,
        by=by,
        act=act.value,
        subject=hold.code,
        detail={"on": subject_of(hold).code, "from_mm": hold.from_mm, "to_mm": hold.to_mm},
        rows=[hold],
    )
