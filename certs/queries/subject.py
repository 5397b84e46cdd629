"""Finds what a certificate speaks of: pieces, the reels they came off, and their way back."""

from dataclasses import dataclass

from certs.models import Certificate
from inventory.models import CutPiece, Reel
from inventory.queries.trace_back import BackTrace, back_from_pieces


@dataclass(frozen=True, slots=True)
class Subject:
    """Pieces in the order of the paper, their traces in the same order, each reel once."""

    pieces: tuple[CutPiece, ...]
    traces: tuple[BackTrace, ...]
    reels: tuple[Reel, ...]


def subject_of(certificate: Certificate) -> Subject:
    """Find the subject of a certificate in a fixed number of queries."""
    pieces = _pieces_of(certificate)
    reels = {piece.reel_id: piece.reel for piece in pieces}
    return Subject(
        pieces=pieces,
        traces=tuple(back_from_pieces(pieces)),
        reels=tuple(reels.values()),
    )


def _pieces_of(certificate: Certificate) -> tuple[CutPiece, ...]:
    pieces = CutPiece.objects.select_related("reel__mill")
    match certificate.kind:
        case Certificate.Kind.CUT_LENGTH:
            chosen = pieces.filter(certificate_ties__certificate=certificate)
            return tuple(chosen.order_by("certificate_ties__position"))
        case Certificate.Kind.ASSEMBLY:
            built_in = pieces.filter(assembly_tie__assembly=certificate.assembly)
            return tuple(built_in.order_by("assembly_tie__position"))
        case _:
            return tuple(pieces.filter(breaking_tests=certificate.breaking_test))
