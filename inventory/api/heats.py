"""Heats over the API."""

from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.api.acting import deed, made, read
from inventory.api.fields import Code
from inventory.api.register import Register
from inventory.models import Heat
from inventory.queries import registers
from inventory.rules.roles import Act
from inventory.services.receive import record_heat


class HeatAsked(serializers.Serializer[Any]):
    """A heat to record; the analysis maps element symbols to mass %, as printed."""

    mill = Code(queryset=registers.parties())
    number = serializers.CharField(max_length=40)
    steel_name = serializers.CharField(max_length=40)
    analysis = serializers.DictField(child=serializers.CharField(max_length=20), default=dict)


class HeatsAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by; a number by its beginning."""

    mill = serializers.CharField(required=False, source="mill__code")
    number = serializers.CharField(required=False, source="number__istartswith")


class HeatAnswer(serializers.ModelSerializer[Heat]):
    """A heat on record."""

    mill = Code()
    analysis = serializers.DictField(child=serializers.CharField())

    class Meta:
        model = Heat
        fields = ["code", "mill", "number", "steel_name", "analysis", "recorded_at"]


@extend_schema_view(list=extend_schema(parameters=[HeatsAsked]))
class HeatViewSet(Register[Heat]):
    """Heats (casts) of steel."""

    queryset = registers.heats()
    serializer_class = HeatAnswer
    narrowed_by = HeatsAsked
    acts = {"create": Act.RECORD_HEAT}

    @extend_schema(request=HeatAsked, responses={201: HeatAnswer})
    def create(self, request: Request) -> Response:
        """Record a heat of a mill."""
        return made(HeatAnswer(record_heat(**read(HeatAsked, request), **deed(request))))
