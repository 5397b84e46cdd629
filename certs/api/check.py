"""Checks of a paper over the API, for anyone: nobody signs in, and nothing is kept."""

from typing import Any

from django.http import Http404
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.parsers import MultiPartParser
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from certs.documents.handed_in_paper import MOST_BYTES, MOST_SENT
from certs.rules.paper_advice import State
from certs.rules.paper_check import CheckVerdict, Standing, Topic
from certs.services.check_paper import check_code, check_file
from inventory.api.acting import read
from inventory.api.body_size import refuse_longer
from inventory.api.rate import Checking
from inventory.api.schema import A_DETAIL


class CheckAsked(serializers.Serializer[Any]):
    """A PDF, or the code that stands on a paper; of both, the PDF is checked."""

    file = serializers.FileField(required=False, allow_empty_file=True)
    code = serializers.CharField(required=False, max_length=40)

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Ask for one of the two."""
        if not attrs.get("file") and not attrs.get("code"):
            raise serializers.ValidationError("Send a PDF as “file”, or a “code”.")
        return attrs


class PaperCheckAnswer(serializers.Serializer[Any]):
    """One check of the paper, and what it means."""

    topic = serializers.ChoiceField([topic.value for topic in Topic])
    verdict = serializers.ChoiceField([verdict.value for verdict in CheckVerdict])
    meaning = serializers.CharField()


class CheckedPaperAnswer(serializers.Serializer[Any]):
    """What was found out. Number, title, moment and code are of a paper whose bytes are ours."""

    standing = serializers.ChoiceField([standing.value for standing in Standing])
    checks = PaperCheckAnswer(many=True)
    sha256 = serializers.CharField()
    identity = serializers.CharField()
    number = serializers.CharField(allow_blank=True)
    title = serializers.CharField(allow_blank=True)
    issued_at = serializers.DateTimeField(allow_null=True)
    code = serializers.CharField(allow_blank=True)
    state = serializers.ChoiceField([state.value for state in State])
    advice = serializers.CharField()


class CheckView(APIView):
    """Is this the certificate that we issued, unchanged, and is it in force now?"""

    authentication_classes = ()
    permission_classes = ()
    throttle_classes = (Checking,)
    parser_classes = (MultiPartParser,)

    @extend_schema(request=CheckAsked, responses={200: CheckedPaperAnswer, 404: A_DETAIL})
    def post(self, request: Request) -> Response:
        """Check a PDF, or what is on record of the paper that bears a code. Nothing is kept."""
        refuse_longer(request, than_bytes=MOST_SENT)
        asked = read(CheckAsked, request)
        sent = asked.get("file")
        answer = check_file(sent.read(MOST_BYTES + 1)) if sent else check_code(asked["code"])
        if answer is None:
            raise Http404
        headers = {"Cache-Control": "no-store", "X-Robots-Tag": "noindex"}
        return Response(CheckedPaperAnswer(answer).data, headers=headers)
