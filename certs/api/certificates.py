"""Certificates over the API: drafted from the record, checked, issued, corrected, withdrawn."""

from dataclasses import replace
from typing import Any

from django.http import Http404, HttpResponse
from django.utils import timezone
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import status
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.certificate_words import (
    AssemblyCertificateAsked,
    BreakingReportAsked,
    CertificateAnswer,
    CertificatesAsked,
    CheckItemAnswer,
    CorrectionAsked,
    CutLengthAsked,
)
from certs.api.register import ClaimRegister
from certs.models import Certificate
from certs.queries.checklist import checklist
from certs.queries.claim_registers import certificates
from certs.queries.claims import certificate_of
from certs.queries.issue_entry import issue_entry
from certs.rules.roles import ClaimAct
from certs.services import drafts
from certs.services.issue import issue_certificate
from certs.services.signing_trouble import signing_trouble
from certs.services.withdraw import withdraw_certificate
from inventory.api.acting import deed, kept, made, read
from inventory.api.fields import ReasonAsked
from inventory.queries.log_proofs import proof_of_entry

CREDENTIAL_TYPE = "application/vc+json"
CODE = "[A-Z]{2}-(?:[0-9]{4}-)?[0-9]{5,9}"
RELATED = ("replaces", "replaced_by", "first_validator__person", "second_validator__person")


@extend_schema_view(list=extend_schema(parameters=[CertificatesAsked]))
class CertificateViewSet(ClaimRegister[Certificate]):
    """Papers, named by their number or by the code of their draft."""

    queryset = certificates().select_related(*RELATED)
    serializer_class = CertificateAnswer
    narrowed_by = CertificatesAsked
    lookup_value_regex = CODE
    acts = {
        "cut_length": ClaimAct.DRAFT_CERTIFICATE,
        "assembly": ClaimAct.DRAFT_CERTIFICATE,
        "breaking": ClaimAct.DRAFT_CERTIFICATE,
        "destroy": ClaimAct.DRAFT_CERTIFICATE,
        "issue": ClaimAct.ISSUE_CERTIFICATE,
        "supersede": ClaimAct.SUPERSEDE_CERTIFICATE,
        "withdraw": ClaimAct.WITHDRAW_CERTIFICATE,
    }

    def get_object(self) -> Certificate:
        """Find a certificate by number or draft code."""
        certificate = certificate_of(self.kwargs["code"])
        if certificate is None:
            raise Http404
        return certificate

    @extend_schema(request=CutLengthAsked, responses={201: CertificateAnswer})
    @action(detail=False, methods=["post"], url_path="cut-length")
    def cut_length(self, request: Request) -> Response:
        """Draft the certificate of cut lengths."""
        asked = read(CutLengthAsked, request)
        return made(CertificateAnswer(drafts.draft_cut_length(**asked, **deed(request))))

    @extend_schema(request=AssemblyCertificateAsked, responses={201: CertificateAnswer})
    @action(detail=False, methods=["post"])
    def assembly(self, request: Request) -> Response:
        """Draft the test certificate of an assembly."""
        asked = read(AssemblyCertificateAsked, request)
        return made(CertificateAnswer(drafts.draft_assembly(**asked, **deed(request))))

    @extend_schema(request=BreakingReportAsked, responses={201: CertificateAnswer})
    @action(detail=False, methods=["post"])
    def breaking(self, request: Request) -> Response:
        """Draft the report of a breaking-force test."""
        asked = read(BreakingReportAsked, request)
        return made(CertificateAnswer(drafts.draft_breaking(**asked, **deed(request))))

    @extend_schema(responses={204: None})
    def destroy(self, request: Request, code: str) -> Response:
        """Throw a draft away; what is issued stays for good."""
        drafts.discard_draft(certificate=self.get_object(), **deed(request))
        return Response(status=status.HTTP_204_NO_CONTENT)

    @extend_schema(responses=CheckItemAnswer(many=True))
    @action(detail=True, pagination_class=None)
    def checklist(self, request: Request, code: str) -> Response:
        """Tell what must be so before it may be issued today, met or not."""
        today = timezone.localdate(deed(request)["at"])
        items = checklist(self.get_object(), on=today, key_trouble=signing_trouble())
        return Response(CheckItemAnswer(items, many=True).data)

    @extend_schema(request=None, responses=CertificateAnswer)
    @action(detail=True, methods=["post"])
    def issue(self, request: Request, code: str) -> Response:
        """Issue a draft: it gets its number, and nothing in it ever changes."""
        issued = issue_certificate(certificate=self.get_object(), **deed(request))
        return Response(CertificateAnswer(issued).data)

    @extend_schema(request=CorrectionAsked, responses={201: CertificateAnswer})
    @action(detail=True, methods=["post"])
    def supersede(self, request: Request, code: str) -> Response:
        """Draft the certificate that will replace this one when it is issued."""
        old = self.get_object()
        asked = read(CorrectionAsked, request)
        correction = _correction(old, reason=asked.pop("reason"), changes=asked)
        return made(CertificateAnswer(drafts.draft_correction(**correction, **deed(request))))

    @extend_schema(request=ReasonAsked, responses=CertificateAnswer)
    @action(detail=True, methods=["post"])
    def withdraw(self, request: Request, code: str) -> Response:
        """Withdraw a certificate in force; its tag says so from now on."""
        old = self.get_object()
        ended = withdraw_certificate(certificate=old, **read(ReasonAsked, request), **deed(request))
        return Response(CertificateAnswer(ended).data)

    @extend_schema(responses={(200, "application/pdf"): OpenApiTypes.BINARY})
    @action(detail=True)
    def pdf(self, request: Request, code: str) -> HttpResponse:
        """Get the paper as it was issued; a draft has none."""
        stored = self.get_object().pdf
        if stored is None:
            raise Http404
        return kept(stored)

    @extend_schema(responses=OpenApiTypes.OBJECT)
    @action(detail=True)
    def json(self, request: Request, code: str) -> HttpResponse:
        """Get the frozen snapshot, the very bytes that its SHA-256 is of; a draft has none."""
        snapshot = self.get_object().snapshot
        if not snapshot:
            raise Http404
        return HttpResponse(snapshot.encode(), content_type="application/json")

    @extend_schema(responses={(200, CREDENTIAL_TYPE): OpenApiTypes.OBJECT})
    @action(detail=True)
    def credential(self, request: Request, code: str) -> HttpResponse:
        """Get the signed credential (VC 2.0, eddsa-jcs-2022), byte for byte; a draft has none."""
        text = self.get_object().credential
        if not text:
            raise Http404
        return HttpResponse(text.encode(), content_type=CREDENTIAL_TYPE)

    @extend_schema(responses={(200, "text/plain"): OpenApiTypes.STR})
    @action(detail=True)
    def proof(self, request: Request, code: str) -> HttpResponse:
        """Get the proof that its issue is in the journal; none before a checkpoint covers it."""
        entry = issue_entry(self.get_object())
        proof = proof_of_entry(entry) if entry else None
        if proof is None:
            raise Http404
        return HttpResponse(proof.text.encode(), content_type="text/plain; charset=utf-8")


def _correction(old: Certificate, *, reason: str, changes: dict[str, Any]) -> dict[str, Any]:
    """Start from the wording of the old certificate and change what was asked for."""
    wording = replace(drafts.wording_of(old), **changes)
    return {"certificate": old, "reason": reason, "wording": wording}
