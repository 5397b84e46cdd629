"""Readings of a reel's length over the API."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.derivations import DerivedAnswer, GapAnswer
from certs.api.register import SignedForClaims
from certs.models import ReelReading
from certs.queries.reel_length import readings_of, told_reading
from certs.rules.reel_length import Method
from certs.rules.roles import ClaimAct
from certs.services.read_reel import read_reel
from inventory.api.acting import deed, made, read
from inventory.api.fields import LengthMm
from inventory.api.register import CODE
from inventory.models import Reel
from inventory.queries.reel_register import reels_on_record

MOST_G = 10**9


class MassG(serializers.IntegerField):
    """A mass in whole grams."""

    def __init__(self) -> None:
        """Leave it out where the reading is of the other kind."""
        super().__init__(min_value=0, max_value=MOST_G, allow_null=True, default=None)


class ReadingAsked(serializers.Serializer[Any]):
    """A reading "mass" with two masses, or "drum" with three dimensions."""

    kind = serializers.ChoiceField(ReelReading.Kind.choices)
    gross_g = MassG()
    tare_g = MassG()
    barrel_mm = LengthMm(allow_null=True, default=None)
    traverse_mm = LengthMm(allow_null=True, default=None)
    wound_mm = LengthMm(allow_null=True, default=None)
    note = serializers.CharField(max_length=300, allow_blank=True, default="")


class EstimateAnswer(serializers.Serializer[Any]):
    """The least and the most that a reading allows, in m."""

    way = serializers.ChoiceField([one.value for one in Method], source="method.value")
    named = serializers.CharField()
    low = DerivedAnswer()
    high = DerivedAnswer()
    is_bounded = serializers.BooleanField()


class AgreementAnswer(serializers.Serializer[Any]):
    """By how much the first says more than the second; null where nothing can be said."""

    first = serializers.CharField()
    second = serializers.CharField()
    least_mm = serializers.IntegerField()
    most_mm = serializers.IntegerField()
    least_percent = serializers.CharField()
    most_percent = serializers.CharField()
    is_consistent = serializers.BooleanField(allow_null=True)


class ReadingAnswer(serializers.Serializer[Any]):
    """A reading, what it says, and how it agrees with what the ledger had then."""

    code = serializers.CharField(source="reading.code")
    kind = serializers.ChoiceField(ReelReading.Kind.choices, source="reading.kind")
    gross_g = serializers.IntegerField(source="reading.gross_g", allow_null=True)
    tare_g = serializers.IntegerField(source="reading.tare_g", allow_null=True)
    barrel_mm = serializers.IntegerField(source="reading.barrel_mm", allow_null=True)
    traverse_mm = serializers.IntegerField(source="reading.traverse_mm", allow_null=True)
    wound_mm = serializers.IntegerField(source="reading.wound_mm", allow_null=True)
    ledger_mm = serializers.IntegerField(source="reading.ledger_mm")
    note = serializers.CharField(source="reading.note", allow_blank=True)
    taken_at = serializers.DateTimeField(source="reading.taken_at")
    estimates = EstimateAnswer(many=True)
    agreements = AgreementAnswer(many=True)
    gaps = GapAnswer(many=True)


class ReadingsAnswer(serializers.Serializer[Any]):
    """All readings, the latest first; `between` compares weighing with winding."""

    readings = ReadingAnswer(many=True)
    between = AgreementAnswer(many=True)


class ReelReadingViewSet(SignedForClaims[Reel]):
    """What was read of the length on a reel."""

    queryset = reels_on_record()
    serializer_class = ReadingsAnswer
    lookup_field = "code"
    lookup_value_regex = CODE
    acts = {"read_one": ClaimAct.READ_REEL}

    @extend_schema(responses=ReadingsAnswer)
    @action(detail=True, pagination_class=None)
    def readings(self, request: Request, code: str) -> Response:
        """List the readings of a reel with what follows from each."""
        return Response(ReadingsAnswer(readings_of(self.get_object())).data)

    @extend_schema(request=ReadingAsked, responses={201: ReadingAnswer})
    @readings.mapping.post
    def read_one(self, request: Request, code: str) -> Response:
        """Record a reading; the ledger stays as it is."""
        reel = self.get_object()
        reading = read_reel(reel=reel, **read(ReadingAsked, request), **deed(request))
        return made(ReadingAnswer(told_reading(reading)))
