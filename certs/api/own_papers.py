"""Drafts over the API in one step: made from the record alone, worded anew, seen as a paper."""

from dataclasses import replace
from typing import Any

from django.http import Http404, HttpResponse
from django.utils import timezone
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.certificate_words import CertificateAnswer, ChangesAsked
from certs.api.certificates import CODE
from certs.api.register import SignedForClaims
from certs.models import Certificate
from certs.queries.claims import certificate_of
from certs.queries.papers_to_issue import Certifiable, certifiable_of
from certs.rules.roles import ClaimAct
from certs.services.change_draft import change_draft
from certs.services.own_paper import draft_own
from certs.services.preview_draft import preview_draft
from certs.services.wording import wording_of
from inventory.api.acting import deed, made, person_of, read


class OwnPaperAsked(serializers.Serializer[Any]):
    """A piece, an assembly or a breaking-force test, by its code."""

    of = serializers.CharField(max_length=20)

    def validate_of(self, value: str) -> Certifiable:
        """Find it."""
        thing = certifiable_of(value)
        if thing is None:
            message = f"“{value}” is no piece, assembly or breaking-force test on record."
            raise serializers.ValidationError(message)
        return thing


class OwnPaperViewSet(SignedForClaims[Certificate]):
    """Drafts, by their codes."""

    lookup_field = "code"
    lookup_value_regex = CODE
    acts = {"own": ClaimAct.DRAFT_CERTIFICATE, "wording": ClaimAct.DRAFT_CERTIFICATE}

    def get_object(self) -> Certificate:
        """Find a draft; what is issued is none."""
        draft = certificate_of(self.kwargs["code"])
        if draft is None:
            raise Http404
        return draft

    @extend_schema(request=OwnPaperAsked, responses={201: CertificateAnswer})
    @action(detail=False, methods=["post"])
    def own(self, request: Request) -> Response:
        """Draft the paper of one thing from the record alone, or get the draft that it has."""
        thing = read(OwnPaperAsked, request)["of"]
        return made(CertificateAnswer(draft_own(thing=thing, **deed(request))))

    @extend_schema(request=ChangesAsked, responses=CertificateAnswer)
    @action(detail=True, methods=["post"])
    def wording(self, request: Request, code: str) -> Response:
        """Change what a draft may choose; what is not named stays as it was."""
        draft = self.get_object()
        wording = replace(wording_of(draft), **read(ChangesAsked, request))
        changed = change_draft(certificate=draft, wording=wording, **deed(request))
        return Response(CertificateAnswer(changed).data)

    @extend_schema(responses={(200, "application/pdf"): OpenApiTypes.BINARY})
    @action(detail=True)
    def preview(self, request: Request, code: str) -> HttpResponse:
        """Get the paper as it would be issued now, marked as a draft; it takes no number."""
        draft = self.get_object()
        pdf = preview_draft(certificate=draft, by=person_of(request), at=timezone.now())
        return HttpResponse(pdf, content_type="application/pdf")
