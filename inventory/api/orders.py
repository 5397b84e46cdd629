"""Orders over the API."""

from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.api.acting import deed, made, read
from inventory.api.fields import AsGiven, AsGivenAnswer, Code, Count, LengthMm
from inventory.api.register import Register
from inventory.models import Order, OrderLine
from inventory.queries import registers
from inventory.rules.roles import Act
from inventory.services.orders import LineAsked, place_order


class OrderLineAsked(serializers.Serializer[Any]):
    """A rope, a length and how often."""

    designation = serializers.CharField(max_length=80)
    length_mm = LengthMm()
    quantity = Count(default=1)
    as_one_length = serializers.BooleanField(default=True)
    together = serializers.ChoiceField(OrderLine.Together.choices, default="not_asked")
    tolerance_minus_mm = LengthMm(default=0)
    tolerance_plus_mm = LengthMm(default=0)
    document_kind = serializers.ChoiceField(OrderLine.DocumentKind.choices, default="none")
    as_given = AsGiven()

    def to_internal_value(self, data: Any) -> Any:  # noqa: ANN401 -- the framework's signature
        """Read it in the words of the service."""
        return LineAsked(**super().to_internal_value(data))


class OrderAsked(serializers.Serializer[Any]):
    """What a customer asks for."""

    customer = Code(queryset=registers.parties())
    customer_reference = serializers.CharField(max_length=60, allow_blank=True, default="")
    lines = serializers.ListField(child=OrderLineAsked(), allow_empty=False, max_length=500)


class OrdersAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    customer = serializers.CharField(required=False, source="customer__code")


class OrderLineAnswer(serializers.ModelSerializer[OrderLine]):
    """A line; it is named elsewhere as "ORDER/POSITION"."""

    as_given = AsGivenAnswer(read_only=True)

    class Meta:
        model = OrderLine
        fields = [
            "position",
            "designation",
            "length_mm",
            "quantity",
            "as_one_length",
            "together",
            "tolerance_minus_mm",
            "tolerance_plus_mm",
            "document_kind",
            "as_given",
        ]


class OrderAnswer(serializers.ModelSerializer[Order]):
    """An order on record."""

    customer = Code()
    lines = OrderLineAnswer(many=True)

    class Meta:
        model = Order
        fields = ["code", "customer", "customer_reference", "lines", "placed_at"]


@extend_schema_view(list=extend_schema(parameters=[OrdersAsked]))
class OrderViewSet(Register[Order]):
    """What customers asked for."""

    queryset = registers.orders().prefetch_related("lines")
    serializer_class = OrderAnswer
    narrowed_by = OrdersAsked
    acts = {"create": Act.PLACE_ORDER}

    @extend_schema(request=OrderAsked, responses={201: OrderAnswer})
    def create(self, request: Request) -> Response:
        """Record an order."""
        return made(OrderAnswer(place_order(**read(OrderAsked, request), **deed(request))))
