"""Cut pieces over the API: what they are, where they came from and went, and the way back."""

from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.api.acting import deed, made, read, read_query
from inventory.api.fields import AsGivenAnswer, Code, LengthMm, OrderLineRef, ReasonAsked
from inventory.api.genealogy import PieceTraceAnswer, PointAnswer, PointAsked
from inventory.api.reel_words import ReelAnswer
from inventory.api.register import Register
from inventory.models import CutPiece
from inventory.queries.cut_pieces import cut_pieces
from inventory.queries.trace_back import back_from_piece, point_on_piece
from inventory.queries.trace_forward import forward_from_piece
from inventory.rules.roles import Act
from inventory.services.cut import reverse_cut
from inventory.services.take_back import take_back_piece
from inventory.services.undo import undo_cut


class PiecesAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    reel = serializers.CharField(required=False, source="reel__code")
    order = serializers.CharField(required=False, source="order_line__order__code")
    purpose = serializers.ChoiceField(CutPiece.Purpose.choices, required=False)


class PieceAnswer(serializers.ModelSerializer[CutPiece]):
    """A stretch of one reel that left it, and where it is now."""

    reel = Code()
    length_mm = serializers.IntegerField()
    as_given = AsGivenAnswer(read_only=True)
    order_line = OrderLineRef(read_only=True, allow_null=True)
    assembly = Code(source="assembly_tie.assembly", allow_null=True)
    delivery = Code(source="delivery_item.delivery", allow_null=True)
    wound_reel = Code(allow_null=True)

    class Meta:
        model = CutPiece
        fields = [
            "code",
            "reel",
            "from_mm",
            "to_mm",
            "length_mm",
            "purpose",
            "order_line",
            "ordered_length_mm",
            "tolerance_minus_mm",
            "tolerance_plus_mm",
            "near_end",
            "far_end",
            "as_given",
            "note",
            "cut_at",
            "is_reversed",
            "assembly",
            "delivery",
            "wound_reel",
        ]


class ReversalAnswer(serializers.Serializer[Any]):
    """The entry that took a wrong cut back."""

    piece = serializers.CharField(source="cut.code")
    reason = serializers.CharField()
    reversed_at = serializers.DateTimeField()


class TakeBackAsked(serializers.Serializer[Any]):
    """What came back, in mm along the piece from its near end; without `to_mm` to its far end."""

    from_mm = LengthMm(default=0)
    to_mm = LengthMm(allow_null=True, default=None)
    is_turned = serializers.BooleanField()
    location = serializers.CharField(max_length=60, allow_blank=True, default="")


@extend_schema_view(list=extend_schema(parameters=[PiecesAsked]))
class PieceViewSet(Register[CutPiece]):
    """Cut pieces. They are cut at their reel."""

    queryset = cut_pieces()
    serializer_class = PieceAnswer
    narrowed_by = PiecesAsked
    acts = {
        "reverse": Act.REVERSE_CUT,
        "undo": Act.CUT_PIECE,
        "take_back": Act.TAKE_BACK_PIECE,
    }

    @extend_schema(request=ReasonAsked, responses={201: ReversalAnswer})
    @action(detail=True, methods=["post"])
    def reverse(self, request: Request, code: str) -> Response:
        """Take back a wrong cut: its metres are free again."""
        cut = self.get_object()
        reversal = reverse_cut(cut=cut, **read(ReasonAsked, request), **deed(request))
        return made(ReversalAnswer(reversal))

    @extend_schema(request=None, responses={201: ReversalAnswer})
    @action(detail=True, methods=["post"])
    def undo(self, request: Request, code: str) -> Response:
        """Take back one's own cut within ten minutes, while nothing rests on the piece."""
        return made(ReversalAnswer(undo_cut(cut=self.get_object(), **deed(request))))

    @extend_schema(request=TakeBackAsked, responses={201: ReelAnswer})
    @action(detail=True, methods=["post"], url_path="take-back")
    def take_back(self, request: Request, code: str) -> Response:
        """Take a delivered piece back; the answer is the reel that it is now."""
        piece = self.get_object()
        wound = take_back_piece(piece=piece, **read(TakeBackAsked, request), **deed(request))
        return made(ReelAnswer(wound))

    @extend_schema(responses=PieceTraceAnswer)
    @action(detail=True)
    def trace(self, request: Request, code: str) -> Response:
        """Tell where the rope of a piece came from, and what was made of it."""
        piece = self.get_object()
        both = {"back": back_from_piece(piece), "forward": forward_from_piece(piece)}
        return Response(PieceTraceAnswer(both).data)

    @extend_schema(parameters=[PointAsked], responses=PointAnswer(many=True))
    @action(detail=True, pagination_class=None)
    def point(self, request: Request, code: str) -> Response:
        """Tell the metre of a point of the piece on every reel that it was on."""
        found = point_on_piece(self.get_object(), **read_query(PointAsked, request))
        return Response(PointAnswer(found, many=True).data)
