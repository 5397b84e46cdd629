"""Stories and recalls over the API: where a thing came from, and what a suspect one reaches."""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from certs.queries.as_known import trace_on
from certs.queries.trace import recall_heat, recall_lot, recall_reel
from certs.queries.trace_shapes import Recall, Story
from inventory.api.acting import read_query
from inventory.api.fields import Code, LengthMm
from inventory.api.schema import shape_of
from inventory.models import FittingLot, Heat, Reel
from inventory.queries.reel_register import reels_on_record
from inventory.queries.registers import fitting_lots, heats
from inventory.rules.refusal import Refusal


class TraceAsked(serializers.Serializer[Any]):
    """A code as people type it; a point, or a stretch of a reel; a past day."""

    code = serializers.CharField(max_length=40)
    at_mm = LengthMm(required=False)
    on = serializers.DateField(
        required=False, help_text="A past day: what was recorded after it is left out."
    )
    from_mm = LengthMm(required=False, help_text="Of a reel: only what was made of these metres.")
    to_mm = LengthMm(required=False)


class RecallAsked(serializers.Serializer[Any]):
    """One of the three by its code; metres of a reel only."""

    heat = Code(queryset=heats(), required=False)
    reel = Code(queryset=reels_on_record(), required=False)
    lot = Code(queryset=fitting_lots(), required=False)
    from_mm = LengthMm(required=False)
    to_mm = LengthMm(required=False)


class TraceView(APIView):
    """The whole story of a thing."""

    @extend_schema(parameters=[TraceAsked], responses=shape_of(Story))
    def get(self, request: Request) -> Response:
        """Tell where it came from, what was made of it and what is claimed of it."""
        asked = read_query(TraceAsked, request)
        question = {"on": None, **asked}
        return Response(trace_on(**question, today=timezone.localdate()))


class RecallView(APIView):
    """What a suspect heat, stretch of a reel or fitting lot reaches."""

    @extend_schema(parameters=[RecallAsked], responses=shape_of(Recall))
    def get(self, request: Request) -> Response:
        """List pieces, assemblies, papers and customers reached, and no others."""
        return Response(_recall(**read_query(RecallAsked, request)))


def _recall(
    *,
    heat: Heat | None = None,
    reel: Reel | None = None,
    lot: FittingLot | None = None,
    **stretch: int,
) -> Recall:
    match heat, reel, lot:
        case Heat(), None, None if not stretch:
            return recall_heat(heat)
        case None, Reel(), None:
            return recall_reel(reel, **stretch)
        case None, None, FittingLot() if not stretch:
            return recall_lot(lot)
        case _:
            message = "Name one heat, one fitting lot, or one reel, and metres with a reel only."
            raise Refusal(message, field="reel")
