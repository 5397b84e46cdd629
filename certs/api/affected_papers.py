"""Papers that state more than the record supports since a test failed, over the API."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from certs.queries.claim_registers import breaking_tests
from certs.queries.papers_affected import papers_affected, papers_affected_by, papers_affected_on
from inventory.api.acting import read_query
from inventory.api.fields import Code
from inventory.queries.reel_register import reels_on_record
from inventory.rules.refusal import Refusal


class AffectedAsked(serializers.Serializer[Any]):
    """A failed test, or a reel whose mill reel is meant; neither: the whole record."""

    breaking_test = Code(queryset=breaking_tests(), required=False)
    reel = Code(queryset=reels_on_record(), required=False)


class OverstatedAnswer(serializers.Serializer[Any]):
    """A value that is stated too high; `supported` is empty where the thing must be rated again."""

    quantity = serializers.CharField()
    stated = serializers.CharField()
    supported = serializers.CharField(allow_blank=True)


class AffectedPaperAnswer(serializers.Serializer[Any]):
    """A paper in force, whom it went to, and what it overstates by which tests."""

    number = serializers.CharField()
    title = serializers.CharField()
    issued_at = serializers.DateTimeField()
    customer_code = serializers.CharField(allow_blank=True)
    tag_code = serializers.CharField()
    overstated = OverstatedAnswer(many=True)
    tests = serializers.ListField(child=serializers.CharField())


class AffectedPapersView(APIView):
    """Papers in force that state more than a failed breaking-force test leaves."""

    @extend_schema(parameters=[AffectedAsked], responses=AffectedPaperAnswer(many=True))
    def get(self, request: Request) -> Response:
        """List them, the oldest first. Nothing is changed: correct or withdraw each."""
        asked = read_query(AffectedAsked, request)
        test, reel = asked.get("breaking_test"), asked.get("reel")
        if test and reel:
            message = "Ask by a test or by a reel, not by both."
            raise Refusal(message, field="reel")
        if test:
            found = papers_affected_by(test)
        else:
            found = papers_affected_on(reel) if reel else papers_affected()
        return Response(AffectedPaperAnswer(found, many=True).data)
