"""What the rope of an order or a piece weighs, over the API."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.derivations import DerivedAnswer, GapAnswer
from certs.api.register import SignedForClaims
from certs.queries.order_weight import order_weight, piece_weights
from certs.rules.derived import Derived, Gap
from inventory.api.register import CODE
from inventory.models import CutPiece, Order
from inventory.queries import registers
from inventory.queries.cut_pieces import cut_pieces


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


class PieceWeightAnswer(serializers.Serializer[Any]):
    """Weights in kg of one piece, one by each mass that is held for its reel."""

    weights = DerivedAnswer(many=True)
    gaps = GapAnswer(many=True)


class PieceWeightViewSet(SignedForClaims[CutPiece]):
    """What a piece weighs."""

    queryset = cut_pieces()
    serializer_class = PieceWeightAnswer
    lookup_field = "code"
    lookup_value_regex = CODE

    @extend_schema(responses=PieceWeightAnswer)
    @action(detail=True, pagination_class=None)
    def weight(self, request: Request, code: str) -> Response:
        """Tell the weight by the basis of the reel and by what the maker declared."""
        found = piece_weights(self.get_object())
        answer = {
            "weights": [one for one in found if isinstance(one, Derived)],
            "gaps": [one for one in found if isinstance(one, Gap)],
        }
        return Response(PieceWeightAnswer(answer).data)
