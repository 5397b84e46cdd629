"""Letters of recalls over the API: written from a hold, sent, answered."""

from typing import Any

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema, extend_schema_field, extend_schema_view
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.register import ClaimRegister
from certs.models import RecallNotice
from certs.queries.recall_notices import notices
from certs.queries.recall_of_hold import codes_in
from certs.rules.roles import ClaimAct
from certs.services.answer_recall import record_acknowledgement, record_sent
from certs.services.recall_notices import LONGEST_WORDS, write_letters
from inventory.api.acting import deed, kept, made, read
from inventory.api.fields import Code
from inventory.queries.registers import holds


class LettersAsked(serializers.Serializer[Any]):
    """The hold, and what customers are told is in doubt; its own reason if nothing is said."""

    hold = Code(queryset=holds())
    words = serializers.CharField(max_length=LONGEST_WORDS, allow_blank=True, default="")


class SentAsked(serializers.Serializer[Any]):
    """How the letter left the house."""

    how = serializers.CharField(max_length=120)


class AcknowledgementAsked(serializers.Serializer[Any]):
    """Who answered for the customer, when, and what was found."""

    who = serializers.CharField(max_length=120)
    when = serializers.DateTimeField()
    note = serializers.CharField(max_length=400, allow_blank=True, default="")


class NoticesAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    hold = serializers.CharField(required=False, source="hold__code")
    customer = serializers.CharField(required=False, source="customer__code")
    is_answered = serializers.BooleanField(
        required=False, allow_null=True, default=None, source="acknowledged_at__isnull"
    )

    def to_internal_value(self, data: Any) -> Any:  # noqa: ANN401 -- the framework's signature
        """Leave out what was not asked; a letter that is not answered has no such time."""
        asked = dict(super().to_internal_value(data))
        is_answered = asked.pop("acknowledged_at__isnull", None)
        return (
            asked if is_answered is None else asked | {"acknowledged_at__isnull": not is_answered}
        )


class RecallNoticeAnswer(serializers.ModelSerializer[RecallNotice]):
    """A letter, the codes it names, and what became of it."""

    hold = Code()
    customer = Code()
    names = serializers.SerializerMethodField()
    words = serializers.SerializerMethodField()
    letter_sha256 = serializers.CharField(source="letter.sha256")

    class Meta:
        model = RecallNotice
        fields = [
            "code",
            "hold",
            "customer",
            "names",
            "words",
            "letter_sha256",
            "written_at",
            "sent_at",
            "sent_how",
            "acknowledged_at",
            "acknowledged_by",
            "acknowledgement",
        ]

    @extend_schema_field(serializers.ListField(child=serializers.CharField()))
    def get_names(self, notice: RecallNotice) -> list[str]:
        """List the items and papers that it names."""
        return codes_in(notice.facts)

    def get_words(self, notice: RecallNotice) -> str:
        """Write what it says is in doubt."""
        return str(notice.facts["words"])


class LettersAnswer(serializers.Serializer[Any]):
    """The letters that were written just now; none if everybody was told already."""

    letters = RecallNoticeAnswer(many=True)


@extend_schema_view(list=extend_schema(parameters=[NoticesAsked]))
class RecallNoticeViewSet(ClaimRegister[RecallNotice]):
    """Letters to customers about what a hold has put in doubt."""

    queryset = notices()
    serializer_class = RecallNoticeAnswer
    narrowed_by = NoticesAsked
    acts = {
        "create": ClaimAct.WRITE_RECALL,
        "sent": ClaimAct.WRITE_RECALL,
        "acknowledge": ClaimAct.WRITE_RECALL,
    }

    @extend_schema(request=LettersAsked, responses={201: LettersAnswer})
    def create(self, request: Request) -> Response:
        """Write a letter to each customer who was not told of everything yet; perhaps none."""
        letters = write_letters(**read(LettersAsked, request), **deed(request))
        return made(LettersAnswer({"letters": letters}))

    @extend_schema(request=SentAsked, responses=RecallNoticeAnswer)
    @action(detail=True, methods=["post"])
    def sent(self, request: Request, code: str) -> Response:
        """Record that the letter left the house now."""
        done = record_sent(notice=self.get_object(), **read(SentAsked, request), **deed(request))
        return Response(RecallNoticeAnswer(done).data)

    @extend_schema(request=AcknowledgementAsked, responses=RecallNoticeAnswer)
    @action(detail=True, methods=["post"])
    def acknowledge(self, request: Request, code: str) -> Response:
        """Record that the customer answered."""
        notice, asked = self.get_object(), read(AcknowledgementAsked, request)
        done = record_acknowledgement(notice=notice, **asked, **deed(request))
        return Response(RecallNoticeAnswer(done).data)

    @extend_schema(responses={(200, "application/pdf"): OpenApiTypes.BINARY})
    @action(detail=True)
    def letter(self, request: Request, code: str) -> HttpResponse:
        """Get the letter as it was written."""
        return kept(self.get_object().letter)
