"""Every reason, known now, not to use a tagged item, whatever its papers say.

How the reasons and the papers together are answered is decided by `tag_status`.
"""

from collections.abc import Iterator, Sequence

from django.utils.timezone import localdate

from certs.models import Tag
from certs.queries.evidence import failed_proof_load
from certs.queries.papers import Paper
from certs.queries.standing_strength import is_derated
from certs.rules.said import Said, Typed
from inventory.models import Assembly, CutPiece, Hold
from inventory.queries.holds import holds_on_assembly, holds_on_pieces


def stops_on(
    tag: Tag,
    *,
    pieces: Sequence[CutPiece],
    assembly: Assembly | None,
    in_force: Sequence[Paper],
) -> Iterator[Said]:
    """Give the reasons as sentences for a stranger with the item in his hand."""
    if tag.revoked_at is not None:
        yield Said(
            "This tag was revoked on {day}: {reason}",
            day=localdate(tag.revoked_at),
            reason=Typed(tag.revoke_reason),
        )
    for hold in _holds(pieces, assembly):
        yield Said(
            "Under hold since {day} ({hold}). Do not use it.",
            day=localdate(hold.placed_at),
            hold=hold.code,
        )
    if in_force and any(piece.is_reversed for piece in pieces):
        yield Said("The entry of this piece was taken back. Ask the issuer.")
    whole = [paper for paper in in_force if paper.is_whole]
    yield from _damaged(in_force)
    yield from _machines(whole)
    yield from _returned(tag)
    yield from _failed(assembly)
    for reel in {piece.reel_id: piece.reel for piece in pieces}.values():
        if is_derated(reel, whole):
            yield Said(
                "The breaking force of this rope was lowered after the paper was issued. "
                "Take it out of use and ask the issuer."
            )


def _holds(pieces: Sequence[CutPiece], assembly: Assembly | None) -> list[Hold]:
    holds: dict[int, Hold] = {}
    if assembly is not None:
        holds.update({hold.pk: hold for hold in holds_on_assembly(assembly)})
    holds.update({hold.pk: hold for hold in holds_on_pieces(pieces)})
    return list(holds.values())


def _damaged(in_force: Sequence[Paper]) -> Iterator[Said]:
    """What was changed past the program must not tell anyone what a rope may carry."""
    for paper in in_force:
        if not paper.is_whole:
            yield Said(
                "Our record of {paper} is not as it was issued: it was damaged or changed."
                " Do not use the item before you have asked the issuer.",
                paper=paper.number,
            )


def _machines(in_force: Sequence[Paper]) -> Iterator[Said]:
    """A machine in doubt takes with it what was shown on it."""
    codes = {
        test["machine"]["code"]
        for paper in in_force
        for kind in ("proof_tests", "breaking_tests")
        for test in paper.snapshot[kind]
    }
    if not codes:
        return
    standing = Hold.objects.filter(testing_machine__code__in=codes, released_at=None)
    for hold in standing.order_by("id"):
        yield Said(
            "The machine it was tested on is under hold since {day} ({hold})."
            " Do not use it before you have asked the issuer.",
            day=localdate(hold.placed_at),
            hold=hold.code,
        )


def _returned(tag: Tag) -> Iterator[Said]:
    """A piece that came back is rope on a reel again: what is cut from it gets its own tag."""
    reel = getattr(tag.piece, "wound_reel", None)
    if reel is not None:
        yield Said(
            "{piece} came back to us on {day}, whole or in part."
            " This tag speaks of it no more: ask the issuer.",
            piece=str(tag.piece),
            day=localdate(reel.received_at),
        )


def _failed(assembly: Assembly | None) -> Iterator[Said]:
    failed = failed_proof_load(assembly)
    if failed is not None:
        yield Said(
            "It failed a proof-load test on {day} ({test}). Take it out of use and ask the issuer.",
            day=localdate(failed.tested_at),
            test=failed.code,
        )
