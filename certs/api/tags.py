"""Tags over the API: issued and revoked by people of the house, answered to anyone."""

from typing import Any

from django.http import Http404
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from certs.api.register import ClaimRegister
from certs.models import Tag
from certs.queries.tag_register import tags
from certs.queries.tag_status import Standing, tag_answer
from certs.rules.roles import ClaimAct
from certs.services.tags import issue_tag, revoke_tag
from inventory.api.acting import deed, made, read
from inventory.api.fields import Code, ReasonAsked
from inventory.api.rate import Scanning
from inventory.queries.cut_pieces import cut_pieces
from inventory.queries.registers import assemblies


class TagAsked(serializers.Serializer[Any]):
    """What the tag goes on: one cut piece or one assembly."""

    piece = Code(queryset=cut_pieces(), allow_null=True, default=None)
    assembly = Code(queryset=assemblies(), allow_null=True, default=None)


class TagAnswerOfRecord(serializers.ModelSerializer[Tag]):
    """A tag on record, and the one thing it names."""

    piece = Code(allow_null=True)
    assembly = Code(allow_null=True)
    certificate = serializers.CharField(source="certificate.number", allow_null=True, default=None)

    class Meta:
        model = Tag
        fields = [
            "code",
            "piece",
            "assembly",
            "certificate",
            "issued_at",
            "revoked_at",
            "revoke_reason",
        ]


class LoadAnswer(serializers.Serializer[Any]):
    """A strength as the paper states it, with the words that must stand beside it."""

    quantity = serializers.CharField()
    value = serializers.CharField()
    words = serializers.CharField(allow_blank=True)


class LastProofAnswer(serializers.Serializer[Any]):
    """The latest proof load that a paper in force rests on; no thorough examination."""

    test = serializers.CharField()
    day = serializers.DateField()


class PublicPaperAnswer(serializers.Serializer[Any]):
    """A paper that speaks of the thing. Nobody's name is in it."""

    number = serializers.CharField()
    title = serializers.CharField()
    document_kind = serializers.CharField()
    state = serializers.CharField()
    issued_at = serializers.DateTimeField()
    pdf_sha256 = serializers.CharField()
    ended_text = serializers.CharField(allow_blank=True)
    replaced_by = serializers.CharField(allow_blank=True)


class PublicTagAnswer(serializers.Serializer[Any]):
    """What a stranger is told, as of now: what it is, whether it is good, what it may carry."""

    code = serializers.CharField()
    standing = serializers.ChoiceField([standing.value for standing in Standing])
    reasons = serializers.ListField(child=serializers.CharField())
    doubts = serializers.ListField(child=serializers.CharField())
    what = serializers.CharField()
    identity = serializers.ListField(child=serializers.ListField(child=serializers.CharField()))
    loads = LoadAnswer(many=True)
    papers = PublicPaperAnswer(many=True)
    cautions = serializers.ListField(child=serializers.CharField())
    proof = LastProofAnswer(allow_null=True)


class TagViewSet(ClaimRegister[Tag]):
    """Codes on the goods and on papers."""

    queryset = tags()
    serializer_class = TagAnswerOfRecord
    lookup_value_regex = "[0-9A-HJKMNP-TV-Z]{16}"
    acts = {"create": ClaimAct.ISSUE_TAG, "revoke": ClaimAct.REVOKE_TAG}

    @extend_schema(request=TagAsked, responses={201: TagAnswerOfRecord})
    def create(self, request: Request) -> Response:
        """Issue a tag for a cut piece or an assembly."""
        return made(TagAnswerOfRecord(issue_tag(**read(TagAsked, request), **deed(request))))

    @extend_schema(request=ReasonAsked, responses=TagAnswerOfRecord)
    @action(detail=True, methods=["post"])
    def revoke(self, request: Request, code: str) -> Response:
        """Revoke a damaged, lost or copied tag."""
        tag = self.get_object()
        revoked = revoke_tag(tag=tag, **read(ReasonAsked, request), **deed(request))
        return Response(TagAnswerOfRecord(revoked).data)


class PublicTagView(APIView):
    """The answer to a scanned tag, for anyone: nobody signs in, no customer is named."""

    authentication_classes = ()
    permission_classes = ()
    throttle_classes = (Scanning,)

    @extend_schema(responses=PublicTagAnswer)
    def get(self, request: Request, code: str) -> Response:
        """Tell what the thing is and whether it is good now."""
        answer = tag_answer(code)
        if answer is None:
            raise Http404
        headers = {"Cache-Control": "no-store", "X-Robots-Tag": "noindex"}
        return Response(PublicTagAnswer(answer).data, headers=headers)
