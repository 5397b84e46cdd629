"""Decides how certificates are listed, and how one is shown."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from certs.models import Certificate
from certs.pages.addresses import page_of
from certs.pages.certificate_tables import SHAPES, name_of, table_of_certificates
from certs.pages.forms.find import CertificateSearchForm
from certs.pages.handing_out import attached, kept
from certs.pages.journal_table import facts_in_journal
from certs.pages.mending import mend_at
from certs.pages.paper_facts import PaperTold, told_paper
from certs.pages.rendering import allowed_acts, show
from certs.pages.signed_files import facts_of_signature
from certs.pages.waiting_list import WaitingRow
from certs.queries.check_item import CheckItem
from certs.queries.checklist import checklist, lacking
from certs.queries.claim_registers import certificates as listed
from certs.queries.claims import certificate_of, tag_of_certificate
from certs.queries.letterhead import current_letterhead
from certs.queries.snapshot import Issuing, build_snapshot
from certs.rules.rope_match import NoBasis
from certs.services.signing_trouble import signing_trouble
from inventory.pages.acting import found, person_of, signed_in
from inventory.pages.facts import Fact, told
from inventory.pages.reading import day
from inventory.pages.rendering import show_list
from inventory.pages.sorting import Sorts

_SORTS: Sorts = {
    "Certificate": ("number",),
    "Kind of document": ("document_kind",),
    "Purchaser": ("customer__name",),
    "State": ("state",),
}


@signed_in
def certificates(request: HttpRequest) -> HttpResponse:
    """All certificates, the latest first."""
    filters = CertificateSearchForm(request.GET)
    return show_list(
        request,
        "certs/certificates.html",
        rows=listed(state=filters.chosen_state, words=filters.words),
        table=table_of_certificates,
        area="certificates",
        noun="certificates",
        sorts=_SORTS,
        filters=filters,
        allowed=allowed_acts(request),
    )


@signed_in
def certificate(request: HttpRequest, code: str) -> HttpResponse:
    """One certificate: what it says or will say, what it lacks, and what may be done with it."""
    shown = found(certificate_of(code))
    is_draft = shown.state == Certificate.State.DRAFT
    checks = _checks(shown) if is_draft else []
    return show(
        request,
        "certs/certificate.html",
        area="certificates",
        certificate=shown,
        name=name_of(shown),
        shape=SHAPES[shown.state],
        facts=_facts(shown),
        checks=[_check(item, shown) for item in checks],
        lacking=[_check(item, shown) for item in lacking(checks)],
        paper=_paper(request, shown),
        tag=tag_of_certificate(shown),
        replaced_by=getattr(shown, "replaced_by", None),
    )


@signed_in
def certificate_pdf(_request: HttpRequest, number: str) -> HttpResponse:
    """The PDF as issued."""
    return kept(found(found(certificate_of(number)).pdf))


@signed_in
def certificate_json(_request: HttpRequest, number: str) -> HttpResponse:
    """The frozen snapshot in canonical JSON, byte for byte."""
    issued = found(certificate_of(number))
    text = found(issued.snapshot or None)
    return attached(text.encode(), name=f"{issued.number}.json", media_type="application/json")


def _checks(draft: Certificate) -> list[CheckItem]:
    return checklist(draft, on=timezone.localdate(), key_trouble=signing_trouble())


def _paper(request: HttpRequest, shown: Certificate) -> PaperTold:
    """Tell the paper from its frozen snapshot, or what a draft would say if it were issued now."""
    if shown.snapshot:
        return PaperTold.of_text(shown.snapshot)
    try:
        snapshot = build_snapshot(shown, _not_issued(request))
    except NoBasis as problem:
        return PaperTold.missing(problem.message)
    return told_paper(snapshot)


def _not_issued(request: HttpRequest) -> Issuing:
    return Issuing(
        number="not yet issued",
        tag_code="",
        at=timezone.now(),
        by=person_of(request),
        issuer=current_letterhead(),
        origin="",
    )


def _check(item: CheckItem, draft: Certificate) -> WaitingRow:
    word, shape = ("met", "good") if item.is_met else ("lacking", "wait")
    return WaitingRow(item.name, word, shape, item.text, mend_at(item, draft))


def _facts(shown: Certificate) -> list[Fact]:
    old = shown.replaces
    return told(
        Fact("What", shown.get_kind_display()),
        Fact("Kind of document", shown.get_document_kind_display()),
        Fact(
            "Purchaser",
            shown.customer.name if shown.customer else "",
            note=shown.customer_reference,
        ),
        Fact("Drafted", f"{day(shown.drafted_at)}, {shown.drafted_by}"),
        Fact(
            "Issued",
            f"{day(shown.issued_at)}, {shown.issued_by}" if shown.issued_at else "",
        ),
        Fact(
            "Replaces",
            str(old.number) if old else "",
            href=page_of(str(old.number)) if old else "",
            note=shown.replace_reason,
        ),
        Fact(
            f"{shown.get_state_display().capitalize()}",
            f"{day(shown.ended_at)}, {shown.ended_by}" if shown.ended_at else "",
            note=shown.end_reason,
        ),
        Fact("SHA-256 of the PDF", shown.pdf_sha256),
        Fact("SHA-256 of the data", shown.snapshot_sha256),
        *facts_of_signature(shown),
        *facts_in_journal(shown),
    )
