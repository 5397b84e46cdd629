"""Drafts certificates from the record: a draft names its subject and asks for nothing typed.

What the paper will say is made from the record when it is issued (`certs.queries.snapshot`);
whether it may be issued is told by `certs.queries.checklist`.
"""

from collections.abc import Sequence
from datetime import datetime

from django.db import transaction

from certs.models import BreakingTest, Certificate, CertificatePiece
from certs.queries.evidence import reversal_of
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from certs.services.wording import CannotDraft, Wording, put_wording, wording_of
from inventory.models import Assembly, CutPiece, Person
from inventory.queries.row_binding import row_key
from inventory.services.guarded import add_row
from inventory.services.journal import append
from inventory.services.locks import lock_rows
from inventory.services.numbering import CERTIFICATE_DRAFT, take_code

__all__ = [
    "CannotDraft",
    "Wording",
    "discard_draft",
    "draft_assembly",
    "draft_breaking",
    "draft_correction",
    "draft_cut_length",
    "wording_of",
]


def draft_cut_length(
    *, pieces: Sequence[CutPiece], wording: Wording, by: Person, at: datetime
) -> Certificate:
    """Draft the certificate of cut lengths: rope passed on as the mill made it.

    Raises:
        NotAllowed: the person's role drafts no certificates.
        CannotDraft: no pieces, or one that is not for supply.
    """
    require(by=by, act=ClaimAct.DRAFT_CERTIFICATE)
    with transaction.atomic():
        _check_pieces(lock_rows(CutPiece, (piece.pk for piece in pieces)), named=len(pieces))
        draft = _create(
            Certificate(kind=Certificate.Kind.CUT_LENGTH), wording=wording, by=by, at=at
        )
        ties = _tie_pieces(draft, pieces)
        _journal(draft, ties, by=by, at=at, of=[p.code for p in pieces])
    return draft


def draft_assembly(
    *, assembly: Assembly, wording: Wording, by: Person, at: datetime
) -> Certificate:
    """Draft the test certificate of an assembly.

    Raises:
        NotAllowed: the person's role drafts no certificates.
        MarkedTooHigh: the load marked lies above what governs the first band of angles.
        Refusal: a load is marked on what has no working load limit.
    """
    require(by=by, act=ClaimAct.DRAFT_CERTIFICATE)
    with transaction.atomic():
        blank = Certificate(kind=Certificate.Kind.ASSEMBLY, assembly=assembly)
        draft = _create(blank, wording=wording, by=by, at=at)
        _journal(draft, [], by=by, at=at, of=[assembly.code])
    return draft


def draft_breaking(
    *, breaking_test: BreakingTest, wording: Wording, by: Person, at: datetime
) -> Certificate:
    """Draft the report of a breaking-force test.

    Raises:
        NotAllowed: the person's role drafts no certificates.
        CannotDraft: the entry of the test was reversed.
    """
    require(by=by, act=ClaimAct.DRAFT_CERTIFICATE)
    if reversal_of(breaking_test) is not None:
        message = f"{breaking_test.code} was reversed: there is nothing to report."
        raise CannotDraft(message, field="breaking_test")
    with transaction.atomic():
        blank = Certificate(kind=Certificate.Kind.BREAKING, breaking_test=breaking_test)
        draft = _create(blank, wording=wording, by=by, at=at)
        _journal(draft, [], by=by, at=at, of=[breaking_test.code])
    return draft


def draft_correction(
    *, certificate: Certificate, reason: str, wording: Wording, by: Person, at: datetime
) -> Certificate:
    """Draft a new certificate that will replace an issued one, with the same subject.

    ISO/IEC 17025:2017 7.8.8: a full re-issue has its own number and names the one it replaces.

    Raises:
        NotAllowed: the person's role does not supersede.
        CannotDraft: the certificate is not in force, a correction is drafted already, no reason.
        MarkedTooHigh: as for `draft_assembly`.
    """
    require(by=by, act=ClaimAct.SUPERSEDE_CERTIFICATE)
    if not reason.strip():
        raise CannotDraft("Say why the certificate is corrected.", field="reason")
    with transaction.atomic():
        old = Certificate.objects.select_for_update(of=("self",)).get(pk=certificate.pk)
        _check_correctable(old)
        blank = Certificate(
            kind=old.kind,
            assembly=old.assembly,
            breaking_test=old.breaking_test,
            replaces=old,
            replace_reason=reason.strip(),
        )
        draft = _create(blank, wording=wording, by=by, at=at)
        pieces = [t.piece for t in old.piece_ties.select_related("piece").order_by("position")]
        ties = _tie_pieces(draft, pieces)
        _journal(draft, ties, by=by, at=at, of=[str(old.number)])
    return draft


def discard_draft(*, certificate: Certificate, by: Person, at: datetime) -> None:
    """Throw a draft away. A draft is no record; that it was thrown away is one.

    Raises:
        NotAllowed: the person's role drafts no certificates.
        CannotDraft: it is issued.
    """
    require(by=by, act=ClaimAct.DRAFT_CERTIFICATE)
    with transaction.atomic():
        draft = Certificate.objects.select_for_update(of=("self",)).get(pk=certificate.pk)
        if draft.state != Certificate.State.DRAFT:
            raise CannotDraft(f"{draft.number} is issued: withdraw it instead.")
        pieces, tests = draft.piece_ties.all(), draft.proof_test_ties.all()
        gone = [row_key(row) for row in (draft, *pieces, *tests)]
        pieces.delete()
        tests.delete()
        draft.delete()
        append(at=at, by=by, act="discard_draft", subject=draft.draft_code, detail={}, gone=gone)


def _create(blank: Certificate, *, wording: Wording, by: Person, at: datetime) -> Certificate:
    put_wording(blank, wording)
    blank.draft_code = take_code(CERTIFICATE_DRAFT)
    blank.drafted_at, blank.drafted_by = at, by
    return add_row(blank, refusal=CannotDraft)


def _tie_pieces(draft: Certificate, pieces: Sequence[CutPiece]) -> list[CertificatePiece]:
    return CertificatePiece.objects.bulk_create(
        CertificatePiece(certificate=draft, piece=piece, position=position)
        for position, piece in enumerate(pieces, start=1)
    )


def _journal(
    draft: Certificate, ties: list[CertificatePiece], *, by: Person, at: datetime, of: list[str]
) -> None:
    append(
        at=at,
        by=by,
        act=ClaimAct.DRAFT_CERTIFICATE,
        subject=draft.draft_code,
        detail={
            "kind": draft.kind,
            "document_kind": draft.document_kind,
            "of": list(of),
            **({} if draft.marked_kg is None else {"marked_kg": draft.marked_kg}),
        },
        rows=[draft, *ties],
    )


def _check_pieces(pieces: Sequence[CutPiece], *, named: int) -> None:
    if not pieces:
        raise CannotDraft("Choose at least one cut piece.", field="pieces")
    wound = CutPiece.objects.filter(wound_reel__isnull=False, pk__in=[p.pk for p in pieces])
    back = set(wound.values_list("code", flat=True))
    wrong = [
        p.code
        for p in pieces
        if p.is_reversed or p.code in back or p.purpose != CutPiece.Purpose.SUPPLY
    ]
    if wrong:
        raise CannotDraft(
            f"Not cut for supply, or taken back: {', '.join(wrong)}. Leave them out.",
            field="pieces",
        )
    if len(pieces) != named:
        raise CannotDraft("A piece is named twice. Name each once.", field="pieces")


def _check_correctable(old: Certificate) -> None:
    if old.state != Certificate.State.ISSUED:
        raise CannotDraft(f"{old} is {old.get_state_display()}: only one in force is corrected.")
    drafted = Certificate.objects.filter(replaces=old).first()
    if drafted is not None:
        raise CannotDraft(f"A correction of {old.number} is drafted already: {drafted}.")
