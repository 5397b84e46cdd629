"""Letterheads over the API: the heads of papers, and setting the next one."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.mixins import ListModelMixin
from rest_framework.parsers import FormParser, JSONParser, MultiPartParser
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.register import SignedForClaims
from certs.documents.logo import MAX_LOGO_BYTES
from certs.models import Letterhead
from certs.queries.letterhead import last_letterhead, letterheads
from certs.rules.roles import ClaimAct
from certs.services.letterhead import HeadAsked, set_letterhead
from inventory.api.acting import deed, made, read


class LetterheadAsked(serializers.Serializer[Any]):
    """What is to stand at the head of papers; without a logo the last one stays."""

    name = serializers.CharField(max_length=120)
    address = serializers.CharField(max_length=400)
    contact = serializers.CharField(max_length=400, allow_blank=True, default="")
    registration = serializers.CharField(max_length=200, allow_blank=True, default="")
    accreditation = serializers.CharField(max_length=300, allow_blank=True, default="")
    logo = serializers.FileField(required=False)
    drops_logo = serializers.BooleanField(default=False)


class LetterheadAnswer(serializers.ModelSerializer[Letterhead]):
    """A letterhead; the latest is the one that papers bear now."""

    logo_sha256 = serializers.CharField(source="logo.sha256", default=None, allow_null=True)

    class Meta:
        model = Letterhead
        fields = [
            "name",
            "address",
            "contact",
            "registration",
            "accreditation",
            "logo_sha256",
            "set_at",
        ]


class LetterheadViewSet(ListModelMixin, SignedForClaims[Letterhead]):
    """The heads of papers, the latest first."""

    queryset = letterheads()
    serializer_class = LetterheadAnswer
    parser_classes = (JSONParser, MultiPartParser, FormParser)
    acts = {"create": ClaimAct.SET_LETTERHEAD}

    @extend_schema(request=LetterheadAsked, responses={201: LetterheadAnswer})
    def create(self, request: Request) -> Response:
        """Set the head of every paper issued from now on."""
        asked = read(LetterheadAsked, request)
        sent, last = asked.pop("logo", None), last_letterhead()
        kept = None if asked.pop("drops_logo") or last is None else last.logo
        content = sent.read(MAX_LOGO_BYTES + 1) if sent else b""
        head = HeadAsked(**asked, logo=kept, logo_sent=content)
        return made(LetterheadAnswer(set_letterhead(head=head, **deed(request))))
