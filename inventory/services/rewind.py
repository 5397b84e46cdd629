"""Rewinds a stretch of a reel on to another: a cut on the one and a new reel made of it."""

from datetime import datetime
from functools import partial

from django.db import transaction

from inventory.models import CutPiece, Person, Reel
from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.services import journal, numbering
from inventory.services.authority import require
from inventory.services.guarded import add_row
from inventory.services.hold_watch import no_hold_meanwhile
from inventory.services.leaving import check_free, check_not_held
from inventory.services.locks import lock_row
from inventory.services.wound_reel import wound_reel


class CannotRewind(Refusal):
    """These metres cannot be rewound."""


def rewind_reel(
    *,
    reel: Reel,
    from_mm: int,
    to_mm: int,
    is_turned: bool = True,
    location: str = "",
    by: Person,
    at: datetime,
) -> Reel:
    """Wind a stretch on to a reel of its own and return that reel.

    Args:
        is_turned: winding turns the rope round, so that the last metre becomes the free end;
            False when it was wound twice.

    Raises:
        CannotRewind: the metres are not free or under hold.
        Refusal: the stretch is none.
    """
    require(by=by, act=Act.REWIND_REEL)
    stretch = Stretch(from_mm, to_mm)
    with transaction.atomic():
        reel = lock_row(reel)
        check_free(reel, stretch, refusal=CannotRewind)
        with no_hold_meanwhile(partial(check_not_held, reel, stretch, refusal=CannotRewind)):
            piece = CutPiece(
                code=numbering.take_code(numbering.CUT_PIECE),
                reel=reel,
                from_mm=stretch.from_mm,
                to_mm=stretch.to_mm,
                purpose=CutPiece.Purpose.REWIND,
                cut_at=at,
                cut_by=by,
            )
            add_row(piece, refusal=CannotRewind)
            wound = wound_reel(piece, stretch, origin=Reel.Origin.REWIND, is_turned=is_turned)
            wound.location, wound.received_at, wound.received_by = location.strip(), at, by
            add_row(wound, refusal=CannotRewind)
            journal.append(
                at=at,
                by=by,
                act=Act.REWIND_REEL.value,
                subject=wound.code,
                detail={
                    "reel": reel.code,
                    "piece": piece.code,
                    "from_mm": stretch.from_mm,
                    "to_mm": stretch.to_mm,
                    "is_turned": is_turned,
                },
                rows=[piece, wound],
            )
    return wound
