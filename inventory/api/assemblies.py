"""Assemblies over the API: what they are built of. How strong they are is told by the claims."""

from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.api.acting import deed, made, read
from inventory.api.fields import Code, Count, LengthMm, OrderLineRef
from inventory.api.register import Register
from inventory.models import Assembly, AssemblyPiece, FittingUse, Termination
from inventory.queries import registers
from inventory.queries.cut_pieces import cut_pieces
from inventory.rules.roles import Act
from inventory.services.assemble import (
    FittingAsked,
    PieceAsked,
    TerminationAsked,
    build_assembly,
)


class FittingUseAsked(serializers.Serializer[Any]):
    """Fittings of one lot."""

    lot = Code(queryset=registers.fitting_lots())
    quantity = Count(default=1)

    def to_internal_value(self, data: Any) -> Any:  # noqa: ANN401 -- the framework's signature
        """Read it in the words of the service."""
        return FittingAsked(**super().to_internal_value(data))


class EndAsked(serializers.Serializer[Any]):
    """What is fitted to one end of a piece."""

    end = serializers.ChoiceField(Termination.End.choices)
    kind = serializers.ChoiceField(Termination.Kind.choices)
    fittings = serializers.ListField(child=FittingUseAsked(), max_length=20, default=list)
    operator = serializers.CharField(max_length=80, allow_blank=True, default="")
    note = serializers.CharField(max_length=120, allow_blank=True, default="")
    eye_mm = LengthMm(allow_null=True, default=None)

    def to_internal_value(self, data: Any) -> Any:  # noqa: ANN401 -- the framework's signature
        """Read it in the words of the service."""
        return TerminationAsked(**super().to_internal_value(data))


class LegAsked(serializers.Serializer[Any]):
    """A cut piece with its ends."""

    piece = Code(queryset=cut_pieces())
    terminations = serializers.ListField(child=EndAsked(), max_length=2, default=list)
    clear_mm = LengthMm(allow_null=True, default=None)

    def to_internal_value(self, data: Any) -> Any:  # noqa: ANN401 -- the framework's signature
        """Read it in the words of the service."""
        return PieceAsked(**super().to_internal_value(data))


class AssemblyAsked(serializers.Serializer[Any]):
    """An assembly to build; its pieces and fittings are used up by it."""

    kind = serializers.ChoiceField(Assembly.Kind.choices)
    pieces = serializers.ListField(child=LegAsked(), allow_empty=False, max_length=20)
    description = serializers.CharField(max_length=120, allow_blank=True, default="")
    order_line = OrderLineRef(allow_null=True, default=None)
    use = serializers.ChoiceField(Assembly.Use.choices, default=Assembly.Use.LIFTING.value)
    convention = serializers.ChoiceField(
        Assembly.Convention.choices, default=Assembly.Convention.FROM_VERTICAL.value
    )
    market_date = serializers.DateField(allow_null=True, default=None)
    bend_mm = LengthMm(allow_null=True, default=None)


class AssembliesAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    kind = serializers.ChoiceField(Assembly.Kind.choices, required=False)


class FittingUseAnswer(serializers.ModelSerializer[FittingUse]):
    """Fittings of a lot in a termination."""

    lot = Code()

    class Meta:
        model = FittingUse
        fields = ["lot", "quantity"]


class EndAnswer(serializers.ModelSerializer[Termination]):
    """What was fitted to one end."""

    fittings = FittingUseAnswer(many=True)

    class Meta:
        model = Termination
        fields = ["end", "kind", "fittings", "operator", "eye_mm", "note"]


class LegAnswer(serializers.ModelSerializer[AssemblyPiece]):
    """A piece built in."""

    piece = Code()
    terminations = EndAnswer(many=True)

    class Meta:
        model = AssemblyPiece
        fields = ["position", "piece", "clear_mm", "terminations"]


class AssemblyAnswer(serializers.ModelSerializer[Assembly]):
    """An assembly on record."""

    order_line = OrderLineRef(read_only=True, allow_null=True)
    delivery = Code(source="delivery_item.delivery", allow_null=True)
    pieces = LegAnswer(many=True, source="piece_ties")

    class Meta:
        model = Assembly
        fields = [
            "code",
            "kind",
            "description",
            "use",
            "convention",
            "market_date",
            "bend_mm",
            "order_line",
            "delivery",
            "pieces",
            "built_at",
        ]


@extend_schema_view(list=extend_schema(parameters=[AssembliesAsked]))
class AssemblyViewSet(Register[Assembly]):
    """Slings and ropes with ends."""

    queryset = registers.assemblies().prefetch_related(
        "piece_ties__piece", "piece_ties__terminations__fittings__lot"
    )
    serializer_class = AssemblyAnswer
    narrowed_by = AssembliesAsked
    acts = {"create": Act.BUILD_ASSEMBLY}

    @extend_schema(request=AssemblyAsked, responses={201: AssemblyAnswer})
    def create(self, request: Request) -> Response:
        """Build an assembly of cut pieces and fittings."""
        built = build_assembly(**read(AssemblyAsked, request), **deed(request))
        return made(AssemblyAnswer(built))
