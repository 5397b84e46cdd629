"""What the rope of an order weighs, over the API."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.derivations import DerivedAnswer, GapAnswer
from certs.api.register import SignedForClaims
from certs.queries.order_weight import order_weight
from inventory.api.register import CODE
from inventory.models import Order
from inventory.queries import registers


class OrderWeightAnswer(serializers.Serializer[Any]):
    """Weights in kg of the rope alone; the total leaves out what `gaps` names."""

    lines = DerivedAnswer(many=True)
    total = DerivedAnswer(allow_null=True)
    gaps = GapAnswer(many=True)


class OrderWeightViewSet(SignedForClaims[Order]):
    """What an order weighs."""

    queryset = registers.orders()
    serializer_class = OrderWeightAnswer
    lookup_field = "code"
    lookup_value_regex = CODE

    @extend_schema(responses=OrderWeightAnswer)
    @action(detail=True, pagination_class=None)
    def weight(self, request: Request, code: str) -> Response:
        """Tell the weight of each line and of all, at nominal mass."""
        return Response(OrderWeightAnswer(order_weight(self.get_object())).data)
