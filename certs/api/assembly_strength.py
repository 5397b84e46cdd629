"""The strength of an assembly over the API: what it may carry, or what stands in the way."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.derivations import DerivedAnswer, SourceAnswer
from certs.api.register import SignedForClaims
from certs.queries.strength import assembly_strength
from inventory.api.register import CODE
from inventory.models import Assembly
from inventory.queries.registers import assemblies


class PieceStrengthAnswer(serializers.Serializer[Any]):
    """A piece: the force of its rope, and with its ends on."""

    piece = serializers.CharField(source="piece.code")
    certified = DerivedAnswer()
    weakest_end = serializers.CharField(source="weakest_end.text")
    force = DerivedAnswer()


class PublishedLoadAnswer(serializers.Serializer[Any]):
    """The value printed in a sling table."""

    load_t = serializers.CharField(source="wll_t")
    source = SourceAnswer()  # type: ignore[assignment] # a field of this name


class RatedLoadAnswer(serializers.Serializer[Any]):
    """A working load limit for one arrangement of legs in one band of angles."""

    legs = serializers.CharField(source="legs.legs")
    from_deg = serializers.CharField(source="legs.from_deg", allow_null=True)
    to_deg = serializers.CharField(source="legs.to_deg", allow_null=True)
    angle_from = serializers.CharField(source="legs.convention")
    leg_factor = serializers.CharField(source="legs.factor")
    governing_t = serializers.CharField(source="rating.governing_t")
    governed_by = serializers.CharField(source="rating.governed_by")
    formula = DerivedAnswer(source="rating.formula")
    published = PublishedLoadAnswer(source="rating.published", allow_null=True)


class AssemblyStrengthAnswer(serializers.Serializer[Any]):
    """Strength of an assembly. With `problems` nothing is rated."""

    assembly = serializers.CharField(source="assembly.code")
    pieces = PieceStrengthAnswer(many=True)
    weakest_link = serializers.CharField(allow_blank=True)
    force = DerivedAnswer(allow_null=True)
    loads = RatedLoadAnswer(many=True)
    problems = serializers.ListField(child=serializers.CharField())
    cautions = serializers.ListField(child=serializers.CharField())


class AssemblyStrengthViewSet(SignedForClaims[Assembly]):
    """What is claimed of an assembly."""

    queryset = assemblies()
    serializer_class = AssemblyStrengthAnswer
    lookup_field = "code"
    lookup_value_regex = CODE

    @extend_schema(responses=AssemblyStrengthAnswer)
    @action(detail=True)
    def strength(self, request: Request, code: str) -> Response:
        """Tell the weakest link and the working load limits."""
        return Response(AssemblyStrengthAnswer(assembly_strength(self.get_object())).data)
