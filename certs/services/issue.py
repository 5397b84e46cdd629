"""Issues a certificate: number, snapshot, PDF and journal entry become one whole or none.

The PDF takes long to render, and a gapless number can be held by one writer at a time. So the
paper is first rendered and signed for the number that is likely to be next, with nothing locked;
then, under lock, number, facts and keys are looked at again. If any has moved on, it is done anew,
and the last attempt renders under the lock, so that it cannot be overtaken.
"""

from collections.abc import Callable, Sequence
from datetime import datetime

from django.db import transaction
from django.db.models import Model
from django.utils import timezone

from certs.models import Certificate, CertificateProofTest, TestReversal
from certs.queries.checklist import checklist, lacking
from certs.queries.evidence import supporting_proof_tests
from certs.queries.letterhead import current_letterhead
from certs.rules.certificate_life import CertificateState, check_move
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from certs.services.print_certificate import (
    Printed,
    canonical_facts,
    keys_now,
    print_certificate,
)
from certs.services.tags import new_code, tag_certificate
from certs.services.withdraw import end_certificate
from inventory.models import Person, StoredFile
from inventory.rules.canonical import sha256_hex
from inventory.rules.refusal import Refusal
from inventory.services.checkpoint import checkpoint_if_able
from inventory.services.files import keep_made
from inventory.services.guarded import guarded
from inventory.services.journal import append
from inventory.services.numbering import (
    BREAKING_TEST,
    HOLD,
    PROOF_TEST,
    WIRE_TEST,
    last_numbers,
    next_number,
    take_number,
)

SERIES = {
    Certificate.Kind.CUT_LENGTH.value: "CL",
    Certificate.Kind.ASSEMBLY.value: "AT",
    Certificate.Kind.BREAKING.value: "BR",
}
UNLOCKED_ATTEMPTS = 3
# What may take away the ground of a paper while it is being written.
_DOUBTS = (HOLD, BREAKING_TEST, PROOF_TEST, WIRE_TEST)


class CannotIssue(Refusal):
    """The draft may not be issued; the text lists what it lacks."""


def issue_certificate(*, certificate: Certificate, by: Person, at: datetime) -> Certificate:
    """Issue a draft.

    Takes the next number of its series and year, freezes the snapshot, signs it as a credential
    and as a PDF, keeps all with their hashes, gives the paper its own code, and supersedes the one
    it replaces.

    Raises:
        NotAllowed: the person's role does not issue.
        CannotIssue: the draft lacks something, or is a draft no longer.
        CannotSign: a key does not open, or the time-stamp service does not answer.
    """
    require(by=by, act=ClaimAct.ISSUE_CERTIFICATE)
    code = new_code()
    for _ in range(UNLOCKED_ATTEMPTS):
        draft = _ready(certificate.pk, at=at)
        ahead = print_certificate(
            draft, number=_number(draft, at, next_number), code=code, by=by, at=at
        )
        issued = _commit(draft, ahead=ahead, by=by, at=at)
        if issued is not None:
            return issued
    draft = _ready(certificate.pk, at=at)
    try:
        with transaction.atomic():
            return _write(draft, code=code, ahead=None, by=by, at=at)
    except _OutOfDateError as error:
        message = "A hold or a test was recorded at this very moment. Issue the draft again."
        raise CannotIssue(message) from error


def _ready(pk: int, *, at: datetime) -> Certificate:
    """Fetch the draft and refuse it unless everything on its checklist is met."""
    draft = Certificate.objects.select_related(
        "customer", "assembly__order_line", "breaking_test__machine", "replaces"
    ).get(pk=pk)
    if draft.state != Certificate.State.DRAFT:
        raise CannotIssue(f"{draft} is {draft.get_state_display()}: only a draft is issued.")
    missing = lacking(checklist(draft, on=timezone.localdate(at)))
    if missing:
        lines = " ".join(f"{item.name}: {item.text}" for item in missing)
        raise CannotIssue(f"This draft cannot be issued yet. {lines}")
    return draft


def _commit(draft: Certificate, *, ahead: Printed, by: Person, at: datetime) -> Certificate | None:
    """Write the paper that was rendered ahead, or nothing if it is out of date."""
    try:
        with transaction.atomic():
            return _write(draft, code=ahead.issuing.tag_code, ahead=ahead, by=by, at=at)
    except _OutOfDateError:
        return None


class _OutOfDateError(Exception):
    """The number or the facts moved on while the paper was rendered or written."""


def _write(
    draft: Certificate, *, code: str, ahead: Printed | None, by: Person, at: datetime
) -> Certificate:
    """Write everything, in a transaction that the caller opened.

    1. Lock the draft, and the certificate it replaces. 2. Take the number. 3. See that the paper
    is of this number, of these facts, and of keys that sign still. 4. Keep the PDF. 5. Freeze the
    row. 6. Give it its code and end the one it replaces. 7. Journal. 8. Now that the journal's head
    is ours, see that nobody placed a hold, or recorded or reversed a test since 1: the facts may be
    others then. 9. Sign the journal with this entry at its end.
    """
    seen = _doubts()
    # 1.
    ids = [pk for pk in (draft.pk, draft.replaces_id) if pk]
    locked = Certificate.objects.select_for_update(of=("self",)).filter(pk__in=ids).order_by("pk")
    old = next((row for row in locked if row.pk == draft.replaces_id), None)
    current = _ready(draft.pk, at=at)
    # 2.
    number = _number(current, at, take_number)
    # 3.
    if ahead is None:
        ahead = print_certificate(current, number=number, code=code, by=by, at=at)
    elif not _is_still(ahead, current, number=number):
        raise _OutOfDateError
    # 4.
    pdf = keep_made(content=ahead.pdf, name=f"{number}.pdf", media_type="application/pdf", at=at)
    # 5.
    ties = _tie_tests(current)
    _freeze(current, ahead, pdf=pdf, by=by, at=at)
    # 6.
    tag = tag_certificate(certificate=current, code=code, by=by, at=at)
    if old is not None:
        reason = f"Replaced by {number}: {current.replace_reason}"
        end_certificate(old, state=CertificateState.SUPERSEDED, reason=reason, by=by, at=at)
    # 7.
    _journal(current, old=old, written=[pdf, tag, *ties], by=by, at=at)
    # 8.
    if _doubts() != seen:
        raise _OutOfDateError
    # 9.
    checkpoint_if_able(at=at)
    return current


def _is_still(ahead: Printed, draft: Certificate, *, number: str) -> bool:
    return (
        ahead.issuing.number == number
        and ahead.issuing.keys == keys_now()
        and ahead.issuing.issuer == current_letterhead()
        and ahead.canonical == canonical_facts(draft, ahead.issuing)
    )


def _doubts() -> tuple[dict[str, int], int]:
    """Look how far the series of doubts have come, and how many tests were taken back."""
    return last_numbers(_DOUBTS), TestReversal.objects.count()


def _number(draft: Certificate, at: datetime, take: Callable[[str], int]) -> str:
    series = f"{SERIES[draft.kind]}-{timezone.localdate(at).year}"
    return f"{series}-{take(series):05d}"


def _tie_tests(draft: Certificate) -> list[CertificateProofTest]:
    with guarded(CannotIssue):  # a test may be reversed at this very moment
        return CertificateProofTest.objects.bulk_create(
            CertificateProofTest(certificate=draft, proof_test=test)
            for test in supporting_proof_tests(draft.assembly)
        )


def _freeze(
    draft: Certificate, paper: Printed, *, pdf: StoredFile, by: Person, at: datetime
) -> None:
    check_move(CertificateState(draft.state), CertificateState.ISSUED)
    draft.state = CertificateState.ISSUED.value
    draft.number = paper.issuing.number
    draft.issued_at, draft.issued_by = at, by
    draft.snapshot = paper.canonical
    draft.snapshot_sha256 = sha256_hex(paper.canonical.encode())
    draft.credential = paper.credential
    draft.credential_sha256 = sha256_hex(paper.credential.encode())
    draft.is_evaluation = (paper.issuing.keys or {}).get("is_evaluation", False)
    draft.pdf, draft.pdf_sha256 = pdf, pdf.sha256
    with guarded(CannotIssue):
        draft.save()


def _journal(
    issued: Certificate,
    *,
    old: Certificate | None,
    written: Sequence[Model],
    by: Person,
    at: datetime,
) -> None:
    append(
        at=at,
        by=by,
        act=ClaimAct.ISSUE_CERTIFICATE,
        subject=str(issued.number),
        detail={
            "draft": issued.draft_code,
            "snapshot_sha256": issued.snapshot_sha256,
            "pdf_sha256": issued.pdf_sha256,
            "credential_sha256": issued.credential_sha256,
            "replaces": str(old.number) if old else None,
        },
        rows=[issued, *([old] if old else []), *written],
    )
