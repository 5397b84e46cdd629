"""What is in stock, over the API: what is left on the reels, and which can give a length."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.api.acting import read_query
from inventory.api.fields import LengthMm
from inventory.api.register import Signed
from inventory.models import Reel
from inventory.queries.stock import reels_for_length, reels_in_stock
from inventory.rules.designation import parse_designation


class StockAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    designation = serializers.CharField(required=False)
    construction = serializers.CharField(required=False)
    location = serializers.CharField(required=False)


class StockReelAnswer(serializers.Serializer[Any]):
    """A reel with what is left on it; clear is what is not under hold."""

    reel = serializers.CharField(source="reel.code")
    designation = serializers.CharField(source="reel.designation")
    location = serializers.CharField(source="reel.location", allow_blank=True)
    remaining_mm = serializers.IntegerField()
    longest_free_mm = serializers.IntegerField()
    longest_clear_mm = serializers.IntegerField()
    is_held = serializers.BooleanField()


class LengthWanted(serializers.Serializer[Any]):
    """A rope and a single length of it."""

    designation = serializers.CharField(max_length=80)
    length_mm = LengthMm(min_value=1)

    def validate_designation(self, value: str) -> str:
        """Write it as it stands on the reels."""
        return parse_designation(value).text


class OfferAnswer(serializers.Serializer[Any]):
    """The reels that can give it, tightest fit first, and the longest single length to be had."""

    reels = StockReelAnswer(many=True)
    longest = StockReelAnswer(allow_null=True)


class StockViewSet(Signed[Reel]):
    """Reels with something left on them."""

    serializer_class = StockReelAnswer

    @extend_schema(parameters=[StockAsked], responses=StockReelAnswer(many=True))
    def list(self, request: Request) -> Response:
        """List what is left, by rope and reel."""
        return self.page_of(reels_in_stock(**read_query(StockAsked, request)), StockReelAnswer)

    @extend_schema(parameters=[LengthWanted], responses=OfferAnswer)
    @action(detail=False, pagination_class=None)
    def offer(self, request: Request) -> Response:
        """Tell which reels can give a length as one."""
        return Response(OfferAnswer(reels_for_length(**read_query(LengthWanted, request))).data)
