"""Undoes what a person has just recorded: a cut is reversed, a hold released, by its own entry.

Nothing vanishes: the reversing act is journalled as ever, with a reason that says what it was.
How long and by whom is decided by `inventory.rules.undo`.
"""

from datetime import datetime

from django.db import transaction

from inventory.models import CutPiece, CutReversal, Hold, Person
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.rules.undo import UNDO_MINUTES, why_not_undone
from inventory.services.authority import require
from inventory.services.cut import put_back
from inventory.services.holds import release_hold
from inventory.services.locks import lock_row

_REASON = f"recorded by mistake; undone within {UNDO_MINUTES} minutes by the same person"


class CannotUndo(Refusal):
    """It is too late to undo it, or for another to do."""


def undo_cut(*, cut: CutPiece, by: Person, at: datetime) -> CutReversal:
    """Take back a cut of one's own within ten minutes, while nothing rests on the piece.

    Who may cut may do so; reversing at any later time is the QA officer's act.

    Raises:
        CannotUndo: another's cut, or too long ago.
        CannotCut: reversed already, under hold, or named by a tag, a paper, a test or an assembly.
    """
    require(by=by, act=Act.CUT_PIECE)
    _check(done_at=cut.cut_at, at=at, is_by_the_same=cut.cut_by_id == by.pk)
    with transaction.atomic():
        lock_row(cut.reel)
        return put_back(lock_row(cut), reason=_REASON, by=by, at=at)


def undo_hold(*, hold: Hold, by: Person, at: datetime) -> Hold:
    """Release a hold of one's own within ten minutes; both entries stay on record.

    Raises:
        NotAllowed: the person's role releases no holds.
        CannotUndo: another's hold, or too long ago.
        CannotHold: released already.
    """
    require(by=by, act=Act.RELEASE_HOLD)
    _check(done_at=hold.placed_at, at=at, is_by_the_same=hold.placed_by_id == by.pk)
    return release_hold(hold=hold, reason=_REASON, by=by, at=at)


def _check(*, done_at: datetime, at: datetime, is_by_the_same: bool) -> None:
    why_not = why_not_undone(done_at=done_at, at=at, is_by_the_same=is_by_the_same)
    if why_not:
        raise CannotUndo(why_not)
