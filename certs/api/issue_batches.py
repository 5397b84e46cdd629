"""Batches over the API: drafts handed over to be issued together, how far they are, and stopping.

A batch works on while nobody waits for the answer; ask for it again to see how far it is.
"""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema, extend_schema_field, extend_schema_view
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.register import ClaimRegister
from certs.models import IssueBatch, IssueBatchLine
from certs.queries.issue_batches import batch_of, batches, progress_of
from certs.queries.papers_to_issue import drafts_to_issue
from certs.rules.batch_standing import BatchStanding
from certs.rules.roles import ClaimAct
from certs.services.issue_batch import MOST_DRAFTS, start_batch, stop_batch, take_up_batch
from certs.tasks.issue_many import issue_many
from inventory.api.acting import deed, made, person_of, read


class BatchAsked(serializers.Serializer[Any]):
    """Which drafts are issued together: by their codes, or all of a thing, or all there are."""

    drafts = serializers.ListField(
        child=serializers.CharField(max_length=16), max_length=MOST_DRAFTS, required=False
    )
    of = serializers.CharField(
        max_length=20,
        required=False,
        help_text="An order, delivery, reel, piece or assembly: all its drafts.",
    )


class BatchAnswer(serializers.ModelSerializer[IssueBatch]):
    """A batch and how far it is."""

    started_by = serializers.CharField(source="started_by.username")
    standing = serializers.SerializerMethodField()
    issued = serializers.IntegerField(source="issued_count")
    stayed = serializers.IntegerField(source="stayed_count")
    left_out = serializers.IntegerField(source="left_out_count")
    waiting = serializers.IntegerField(source="waiting_count")

    class Meta:
        model = IssueBatch
        fields = [
            "code",
            "standing",
            "started_at",
            "started_by",
            "moved_at",
            "stop_asked_at",
            "finished_at",
            "issued",
            "stayed",
            "left_out",
            "waiting",
        ]

    @extend_schema_field(serializers.ChoiceField([one.value for one in BatchStanding]))
    def get_standing(self, batch: IssueBatch) -> str:
        """Tell whether someone works on it; quiet: nobody has for a minute."""
        return progress_of(batch, now=timezone.now()).standing.value


class BatchLineAnswer(serializers.ModelSerializer[IssueBatchLine]):
    """What became of one draft: its number, or why it was not issued."""

    class Meta:
        model = IssueBatchLine
        fields = ["draft_code", "outcome", "number", "reason", "settled_at"]


@extend_schema_view(create=extend_schema(request=BatchAsked, responses={201: BatchAnswer}))
class IssueBatchViewSet(ClaimRegister[IssueBatch]):
    """Drafts that were handed over together."""

    queryset = batches()
    serializer_class = BatchAnswer
    acts = {
        "create": ClaimAct.ISSUE_CERTIFICATE,
        "stop": ClaimAct.ISSUE_CERTIFICATE,
        "go_on": ClaimAct.ISSUE_CERTIFICATE,
    }

    def create(self, request: Request) -> Response:
        """Hand drafts over; what lacks something stays a draft and says why."""
        asked = read(BatchAsked, request)
        codes = asked.get("drafts")
        if codes is None:
            codes = [draft.draft_code for draft in drafts_to_issue(asked.get("of", ""))]
        batch = start_batch(draft_codes=codes, **deed(request))
        issue_many.enqueue(batch.code, person_of(request).username)
        return made(BatchAnswer(batch_of(batch.code)))

    @extend_schema(responses=BatchLineAnswer(many=True))
    @action(detail=True)
    def lines(self, request: Request, code: str) -> Response:
        """Tell what became of each draft, in the order of the batch."""
        return self.page_of(self.get_object().lines.order_by("position"), BatchLineAnswer)

    @extend_schema(request=None, responses=BatchAnswer)
    @action(detail=True, methods=["post"])
    def stop(self, request: Request, code: str) -> Response:
        """Stop it after the paper that is being issued."""
        stop_batch(batch=self.get_object(), **deed(request))
        return Response(BatchAnswer(batch_of(code)).data)

    @extend_schema(request=None, responses=BatchAnswer)
    @action(detail=True, methods=["post"], url_path="go-on")
    def go_on(self, request: Request, code: str) -> Response:
        """Hand it over again where nobody has worked on it for a minute."""
        take_up_batch(batch=self.get_object(), **deed(request))
        issue_many.enqueue(code, person_of(request).username)
        return Response(BatchAnswer(batch_of(code)).data)
