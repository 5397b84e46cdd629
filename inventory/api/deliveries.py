"""Deliveries over the API."""

from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.api.acting import deed, made, read
from inventory.api.fields import Code
from inventory.api.register import Register
from inventory.models import Delivery, DeliveryItem
from inventory.queries import registers
from inventory.queries.cut_pieces import cut_pieces
from inventory.rules.roles import Act
from inventory.services.deliver import record_delivery


class DeliveryAsked(serializers.Serializer[Any]):
    """What leaves the house for a customer."""

    customer = Code(queryset=registers.parties())
    pieces = serializers.ListField(child=Code(queryset=cut_pieces()), default=list, max_length=500)
    assemblies = serializers.ListField(
        child=Code(queryset=registers.assemblies()), default=list, max_length=500
    )
    order = Code(queryset=registers.orders(), allow_null=True, default=None)
    note = serializers.CharField(max_length=200, allow_blank=True, default="")


class DeliveriesAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    customer = serializers.CharField(required=False, source="customer__code")


class DeliveryItemAnswer(serializers.ModelSerializer[DeliveryItem]):
    """One piece or one assembly."""

    piece = Code(allow_null=True)
    assembly = Code(allow_null=True)

    class Meta:
        model = DeliveryItem
        fields = ["piece", "assembly"]


class DeliveryAnswer(serializers.ModelSerializer[Delivery]):
    """A delivery on record."""

    customer = Code()
    order = Code(allow_null=True)
    items = DeliveryItemAnswer(many=True)

    class Meta:
        model = Delivery
        fields = ["code", "customer", "order", "items", "note", "delivered_at"]


@extend_schema_view(list=extend_schema(parameters=[DeliveriesAsked]))
class DeliveryViewSet(Register[Delivery]):
    """What left the house, when, and for whom."""

    queryset = registers.deliveries().prefetch_related("items__piece", "items__assembly")
    serializer_class = DeliveryAnswer
    narrowed_by = DeliveriesAsked
    acts = {"create": Act.RECORD_DELIVERY}

    @extend_schema(request=DeliveryAsked, responses={201: DeliveryAnswer})
    def create(self, request: Request) -> Response:
        """Record a delivery."""
        delivery = record_delivery(**read(DeliveryAsked, request), **deed(request))
        return made(DeliveryAnswer(delivery))
