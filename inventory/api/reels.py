"""Reels over the API: moved, cut, rewound; their map, what is left, their history.

How they are received stands with the claims, as every reel is checked in the same act; so these
endpoints have their address there too.
"""

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.api.acting import deed, made, read, read_query
from inventory.api.fields import StretchAsked
from inventory.api.genealogy import AroundAsked, ForwardAnswer, NeighbourAnswer, RopeTraceAnswer
from inventory.api.pieces import PieceAnswer
from inventory.api.reel_words import (
    CutAsked,
    FreeAnswer,
    MoveAsked,
    ReelAnswer,
    ReelMapAnswer,
    ReelsAsked,
    RewindAsked,
)
from inventory.api.register import Register
from inventory.models import Reel
from inventory.queries.neighbours import neighbours
from inventory.queries.reel_map import reel_map
from inventory.queries.reel_register import reels_on_record
from inventory.queries.stock import clear_on_reel, free_on_reel, reel_balance
from inventory.queries.trace_back import back_from_reel
from inventory.queries.trace_forward import forward_from_reel
from inventory.rules.roles import Act
from inventory.services.cut import cut_piece
from inventory.services.receive import move_reel
from inventory.services.rewind import rewind_reel


@extend_schema_view(list=extend_schema(parameters=[ReelsAsked]))
class ReelViewSet(Register[Reel]):
    """Reels, with their metre scale and where they were wound from."""

    queryset = (
        reels_on_record()
        .select_related("mill_document", "wound_from")
        .prefetch_related("heat_ties__heat")
    )
    serializer_class = ReelAnswer
    narrowed_by = ReelsAsked
    acts = {
        "cut": Act.CUT_PIECE,
        "rewind": Act.REWIND_REEL,
        "move": Act.MOVE_REEL,
    }

    @extend_schema(request=CutAsked, responses={201: PieceAnswer})
    @action(detail=True, methods=["post"])
    def cut(self, request: Request, code: str) -> Response:
        """Cut a piece in one length."""
        reel = self.get_object()
        return made(PieceAnswer(cut_piece(reel=reel, **read(CutAsked, request), **deed(request))))

    @extend_schema(request=RewindAsked, responses={201: ReelAnswer})
    @action(detail=True, methods=["post"])
    def rewind(self, request: Request, code: str) -> Response:
        """Wind a stretch on to a reel of its own; the answer is that reel."""
        reel = self.get_object()
        wound = rewind_reel(reel=reel, **read(RewindAsked, request), **deed(request))
        return made(ReelAnswer(wound))

    @extend_schema(request=MoveAsked, responses=ReelAnswer)
    @action(detail=True, methods=["post"])
    def move(self, request: Request, code: str) -> Response:
        """Record where the reel stands now."""
        reel = self.get_object()
        moved = move_reel(reel=reel, **read(MoveAsked, request), **deed(request))
        return Response(ReelAnswer(moved).data)

    @extend_schema(responses=FreeAnswer)
    @action(detail=True)
    def free(self, request: Request, code: str) -> Response:
        """Tell what is left on the reel."""
        reel = self.get_object()
        left = {
            "free": free_on_reel(reel),
            "clear": clear_on_reel(reel),
            "balance": reel_balance(reel),
        }
        return Response(FreeAnswer(left).data)

    @extend_schema(responses=ReelMapAnswer)
    @action(detail=True)
    def map(self, request: Request, code: str) -> Response:
        """Tell where every metre of the reel went."""
        return Response(ReelMapAnswer(reel_map(self.get_object())).data)

    @extend_schema(parameters=[AroundAsked], responses=NeighbourAnswer(many=True))
    @action(detail=True, pagination_class=None)
    def neighbours(self, request: Request, code: str) -> Response:
        """Tell what was cut around a point, on this reel and through rewinds."""
        found = neighbours(self.get_object(), **read_query(AroundAsked, request))
        return Response(NeighbourAnswer(found, many=True).data)

    @extend_schema(parameters=[StretchAsked], responses=RopeTraceAnswer)
    @action(detail=True)
    def back(self, request: Request, code: str) -> Response:
        """Trace the reel, or a stretch of it, to heats and documents."""
        asked = read_query(StretchAsked, request)
        return Response(RopeTraceAnswer(back_from_reel(self.get_object(), **asked)).data)

    @extend_schema(parameters=[StretchAsked], responses=ForwardAnswer)
    @action(detail=True)
    def forward(self, request: Request, code: str) -> Response:
        """Tell all that was made of the reel, or of a stretch of it."""
        asked = read_query(StretchAsked, request)
        return Response(ForwardAnswer(forward_from_reel(self.get_object(), **asked)).data)
