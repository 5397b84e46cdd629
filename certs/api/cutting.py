"""Which reels to cut for an order, over the API: a proposal, and the booking of cuts."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers, status
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from certs.queries.suitable_reels import CuttingOffer, cutting_offer
from inventory.api.acting import deed, read
from inventory.api.fields import LengthMm
from inventory.api.pieces import PieceAnswer
from inventory.api.register import CODE, Signed
from inventory.models import Order
from inventory.queries.registers import orders
from inventory.rules.cutting_places import WishedCut, placed
from inventory.rules.cutting_plan import propose_cuts
from inventory.rules.cutting_terms import CuttingPlan, PlanScore
from inventory.rules.roles import Act
from inventory.services.cut_plan import MOST_CUTS, book_plan

_LINE_HELP = "A line of this order by its position, counted from 1."


class ProposalAsked(serializers.Serializer[Any]):
    """What a proposal is to mind."""

    shortest_usable_mm = LengthMm(
        default=0, help_text="A remnant shorter than this is of no use; 0: every remnant is."
    )
    without = serializers.ListField(
        child=serializers.CharField(max_length=16),
        default=list,
        max_length=1000,
        help_text="Codes of reels that are not to be cut.",
    )


class PlannedCutAnswer(serializers.Serializer[Any]):
    """A piece to be cut: metres of one reel, for one line."""

    line = serializers.IntegerField(help_text=_LINE_HELP)
    reel = serializers.CharField()
    from_mm = serializers.IntegerField()
    to_mm = serializers.IntegerField()


class RemnantAnswer(serializers.Serializer[Any]):
    """What the plan leaves of a stretch that it cuts from."""

    reel = serializers.CharField()
    from_mm = serializers.IntegerField(source="stretch.from_mm")
    to_mm = serializers.IntegerField(source="stretch.to_mm")
    is_usable = serializers.BooleanField()


class UnmetAnswer(serializers.Serializer[Any]):
    """What of a line is not cut, and why; `pieces` is 0 for a line in any lengths."""

    line = serializers.IntegerField(help_text=_LINE_HELP)
    missing_mm = serializers.IntegerField()
    pieces = serializers.IntegerField()
    reason = serializers.CharField()


class ScoreAnswer(serializers.Serializer[Any]):
    """What plans are compared by, the first that differs deciding; the least is the best.

    `unusable_mm` counts all stock offered, also stretches that were too short before.
    """

    unmet_mm = serializers.IntegerField()
    unusable_mm = serializers.IntegerField()
    reels = serializers.IntegerField()


class LastAnswer(serializers.Serializer[Any]):
    """A reel that is offered last, and why."""

    reel = serializers.CharField()
    why = serializers.CharField()


class ProposalAnswer(serializers.Serializer[Any]):
    """Cuts in the order in which to make them. Nothing is booked by asking.

    `bound` is what no plan can be better than; `is_proved_best` says that this one is as good.
    """

    cuts = PlannedCutAnswer(many=True)
    remnants = RemnantAnswer(many=True)
    unmet = UnmetAnswer(many=True)
    score = ScoreAnswer()
    bound = ScoreAnswer()
    is_proved_best = serializers.BooleanField()
    unusable_left_mm = serializers.IntegerField()
    offered_last = LastAnswer(many=True)


class CutWished(serializers.Serializer[Any]):
    """A piece to cut; without `from_mm` it is put where there is room on the reel."""

    line = serializers.IntegerField(min_value=1, max_value=999_999, help_text=_LINE_HELP)
    reel = serializers.CharField(max_length=16)
    length_mm = LengthMm(min_value=1)
    from_mm = LengthMm(allow_null=True, default=None)


class CutsAsked(serializers.Serializer[Any]):
    """The cuts of a plan, all of which are booked, or none."""

    cuts = serializers.ListField(child=CutWished(), allow_empty=False, max_length=MOST_CUTS)


class OrderCuttingViewSet(Signed[Order]):
    """What to cut for an order."""

    queryset = orders()
    serializer_class = ProposalAnswer
    lookup_field = "code"
    lookup_value_regex = CODE
    acts = {"propose": Act.CUT_PIECE, "book": Act.CUT_PIECE}

    @extend_schema(request=ProposalAsked, responses=ProposalAnswer)
    @action(detail=True, methods=["post"], url_path="cutting-proposal")
    def propose(self, request: Request, code: str) -> Response:
        """Propose which reels to cut for what is missing of the order."""
        order, asked = self.get_object(), read(ProposalAsked, request)
        offer = cutting_offer(order, without=asked["without"])
        plan = propose_cuts(
            offer.demands, offer.stock, shortest_usable_mm=asked["shortest_usable_mm"]
        )
        return Response(ProposalAnswer(_told(plan, offer)).data)

    @extend_schema(request=CutsAsked, responses={201: PieceAnswer(many=True)})
    @action(detail=True, methods=["post"], url_path="cutting", pagination_class=None)
    def book(self, request: Request, code: str) -> Response:
        """Cut all of these pieces, or none; the answer is the pieces in their order."""
        order = self.get_object()
        wishes = [
            WishedCut(f"{order.code}.{cut['line']}", cut["reel"], cut["length_mm"], cut["from_mm"])
            for cut in read(CutsAsked, request)["cuts"]
        ]
        cuts = placed(wishes, cutting_offer(order).stock)
        pieces = book_plan(order=order, cuts=cuts, **deed(request))
        return Response(PieceAnswer(pieces, many=True).data, status=status.HTTP_201_CREATED)


def _told(plan: CuttingPlan, offer: CuttingOffer) -> dict[str, Any]:
    return {
        "cuts": [
            {
                "line": _position(cut.line),
                "reel": cut.reel,
                "from_mm": cut.stretch.from_mm,
                "to_mm": cut.stretch.to_mm,
            }
            for cut in plan.cuts
        ],
        "remnants": plan.remnants,
        "unmet": [
            {
                "line": _position(one.line),
                "missing_mm": one.missing_mm,
                "pieces": one.pieces,
                "reason": one.reason,
            }
            for one in plan.unmet
        ],
        "score": _score(plan.score),
        "bound": _score(plan.bound),
        "is_proved_best": plan.is_proved_best,
        "unusable_left_mm": plan.unusable_left_mm,
        "offered_last": [{"reel": reel, "why": why} for reel, why in offer.words.items()],
    }


def _position(line: str) -> int:
    return int(line.rpartition(".")[2])


def _score(score: PlanScore) -> dict[str, int]:
    return {"unmet_mm": score.unmet_mm, "unusable_mm": score.unusable_mm, "reels": score.reels}
