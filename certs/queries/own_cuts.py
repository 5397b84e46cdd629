"""Tells what a person cut lately, and what may still be undone or labelled of it."""

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from certs.models import Tag
from inventory.models import CutPiece, Person
from inventory.rules.undo import why_not_undone

MOST: Final = 10


@dataclass(frozen=True, slots=True)
class OwnCut:
    """A piece, whether a label of it was printed, and what to offer for it."""

    piece: CutPiece
    is_labelled: bool
    gets_label: bool
    may_be_undone: bool


def own_cuts(*, by: Person, since: datetime, at: datetime) -> list[OwnCut]:
    """Return the last ten cuts of a person since then, newest first, in two queries."""
    cuts = CutPiece.objects.filter(cut_by=by, cut_at__gte=since).exclude(
        purpose=CutPiece.Purpose.REWIND
    )
    related = ("reel", "order_line__order", "assembly_tie", "delivery_item", "wound_reel")
    pieces = list(cuts.select_related(*related).order_by("-cut_at", "-id")[:MOST])
    tags = Tag.objects.filter(piece__in=[piece.pk for piece in pieces])
    labelled = set(tags.values_list("piece_id", flat=True))
    return [_told(piece, by=by, at=at, is_labelled=piece.pk in labelled) for piece in pieces]


def _told(piece: CutPiece, *, by: Person, at: datetime, is_labelled: bool) -> OwnCut:
    is_used = any(hasattr(piece, name) for name in ("assembly_tie", "delivery_item", "wound_reel"))
    is_free = not (piece.is_reversed or is_labelled or is_used)
    own = piece.cut_by_id == by.pk
    return OwnCut(
        piece=piece,
        is_labelled=is_labelled,
        gets_label=piece.purpose == CutPiece.Purpose.SUPPLY and not piece.is_reversed,
        # The service decides; what it would surely refuse is not offered.
        may_be_undone=is_free
        and not why_not_undone(done_at=piece.cut_at, at=at, is_by_the_same=own),
    )
