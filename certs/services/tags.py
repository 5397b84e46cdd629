"""Issues and revokes tags: random codes that lead a stranger to one thing of the record."""

import secrets
from datetime import datetime

from django.db import transaction

from certs.models import Certificate, Tag
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from inventory.models import Assembly, CutPiece, Person
from inventory.rules.refusal import Refusal
from inventory.rules.tag_code import BITS, code_from_bits
from inventory.services.guarded import check_fields
from inventory.services.journal import append, text_hash
from inventory.services.locks import lock_row


class CannotTag(Refusal):
    """The tag cannot be issued or revoked."""


def new_code() -> str:
    """Draw a tag code: 75 random bits and a check symbol that stays in the alphabet."""
    while True:
        code = code_from_bits(secrets.randbits(BITS))
        if code is not None:
            return code


def issue_tag(
    *,
    piece: CutPiece | None = None,
    assembly: Assembly | None = None,
    by: Person,
    at: datetime,
) -> Tag:
    """Issue a tag for a cut piece or an assembly; exactly one of them.

    Raises:
        NotAllowed: the person's role does not issue tags.
        CannotTag: the piece is not one that leaves the house.
    """
    require(by=by, act=ClaimAct.ISSUE_TAG)
    thing = piece or assembly
    if thing is None or (piece and assembly):
        raise CannotTag("Name one cut piece or one assembly for the tag.")
    with transaction.atomic():
        if piece:
            _check_supplied(lock_row(piece))
        tag = Tag.objects.create(
            code=new_code(), piece=piece, assembly=assembly, issued_at=at, issued_by=by
        )
        append(
            at=at,
            by=by,
            act=ClaimAct.ISSUE_TAG,
            subject=thing.code,
            detail={"tag_sha256": text_hash(tag.code)},
            rows=[tag],
        )
    return tag


def revoke_tag(*, tag: Tag, reason: str, by: Person, at: datetime) -> Tag:
    """Revoke a damaged, lost or copied tag; the thing may be given another.

    Raises:
        NotAllowed: the person's role does not revoke tags.
        CannotTag: revoked already, or without a reason, or the tag of a certificate.
    """
    require(by=by, act=ClaimAct.REVOKE_TAG)
    if not reason.strip():
        raise CannotTag("Say why the tag is revoked.", field="reason")
    with transaction.atomic():
        tag = Tag.objects.select_for_update(of=("self",)).get(pk=tag.pk)
        if tag.revoked_at is not None:
            raise CannotTag("This tag is revoked already.")
        if tag.certificate_id is not None:
            raise CannotTag("A certificate's own code is never revoked: withdraw the certificate.")
        tag.revoked_at, tag.revoked_by, tag.revoke_reason = at, by, reason.strip()
        check_fields(tag, refusal=CannotTag)
        tag.save(update_fields=["revoked_at", "revoked_by", "revoke_reason"])
        append(
            at=at,
            by=by,
            act=ClaimAct.REVOKE_TAG,
            subject=_subject(tag),
            detail={
                "tag_sha256": text_hash(tag.code),
                "reason_sha256": text_hash(tag.revoke_reason),
            },
            rows=[tag],
        )
    return tag


def tag_certificate(*, certificate: Certificate, code: str, by: Person, at: datetime) -> Tag:
    """Give a certificate its own code. Part of issuing it: no act and no entry of its own."""
    return Tag.objects.create(code=code, certificate=certificate, issued_at=at, issued_by=by)


def _check_supplied(piece: CutPiece) -> None:
    """Refuse a piece that never leaves the house; it is locked, so that its cut stands."""
    if piece.is_reversed or piece.purpose != CutPiece.Purpose.SUPPLY:
        raise CannotTag(f"{piece.code} is not a piece for supply: it gets no tag.")


def _subject(tag: Tag) -> str:
    thing = tag.piece or tag.assembly
    return thing.code if thing else ""
