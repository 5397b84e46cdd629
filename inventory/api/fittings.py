"""Fitting lots over the API."""

from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.api.acting import deed, made, read
from inventory.api.fields import Code, Count
from inventory.api.register import Register
from inventory.models import FittingLot
from inventory.queries import registers
from inventory.rules.roles import Act
from inventory.services.fittings import receive_fitting_lot


class FittingLotAsked(serializers.Serializer[Any]):
    """A lot to receive; `for_diameter` is "10" (mm) or "3/8 in", empty for any rope."""

    kind = serializers.ChoiceField(FittingLot.Kind.choices)
    maker = Code(queryset=registers.parties())
    maker_lot_number = serializers.CharField(max_length=60)
    description = serializers.CharField(max_length=120)
    material = serializers.CharField(max_length=60, allow_blank=True, default="")
    for_diameter = serializers.CharField(max_length=20, allow_blank=True, default="")
    quantity = Count()
    rated_kg = Count(allow_null=True, default=None)
    heat = Code(queryset=registers.heats(), allow_null=True, default=None)
    document = Code(queryset=registers.mill_documents(), allow_null=True, default=None)


class FittingLotsAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    kind = serializers.ChoiceField(FittingLot.Kind.choices, required=False)
    maker = serializers.CharField(required=False, source="maker__code")


class FittingLotAnswer(serializers.ModelSerializer[FittingLot]):
    """A lot on record."""

    maker = Code()
    heat = Code(allow_null=True)
    document = Code(allow_null=True)

    class Meta:
        model = FittingLot
        fields = [
            "code",
            "kind",
            "maker",
            "maker_lot_number",
            "description",
            "material",
            "for_diameter_nm",
            "quantity",
            "rated_kg",
            "heat",
            "document",
            "received_at",
        ]


@extend_schema_view(list=extend_schema(parameters=[FittingLotsAsked]))
class FittingLotViewSet(Register[FittingLot]):
    """Ferrules, thimbles, sockets and terminals, in lots."""

    queryset = registers.fitting_lots().select_related("heat", "document")
    serializer_class = FittingLotAnswer
    narrowed_by = FittingLotsAsked
    acts = {"create": Act.RECEIVE_FITTINGS}

    @extend_schema(request=FittingLotAsked, responses={201: FittingLotAnswer})
    def create(self, request: Request) -> Response:
        """Receive a lot of fittings."""
        lot = receive_fitting_lot(**read(FittingLotAsked, request), **deed(request))
        return made(FittingLotAnswer(lot))
