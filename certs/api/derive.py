"""Derives strength, mass and diameter limits of a designation over the API."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers, status
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from certs.api.derivations import DerivedAnswer, GapAnswer, highest, lowest, shown
from certs.queries.derivation import derive
from certs.queries.derive_designation import UnknownCombination
from certs.rules.cautions import cautions_for
from inventory.api.acting import read_query


class DeriveAsked(serializers.Serializer[Any]):
    """A designation (EN 12385-2) and, if a printed value is wanted, the table to take it from."""

    designation = serializers.CharField(max_length=80)
    table = serializers.CharField(max_length=60, required=False)


class DerivationAnswer(serializers.Serializer[Any]):
    """What follows from a designation; `others` fit as well and were not lower."""

    designation = serializers.CharField()
    assumed = serializers.ListField(child=serializers.CharField())
    force = DerivedAnswer()
    mass = DerivedAnswer(allow_null=True)
    diameter_min = DerivedAnswer(allow_null=True)
    diameter_max = DerivedAnswer(allow_null=True)
    gaps = GapAnswer(many=True)
    others = serializers.ListField(child=serializers.CharField())
    cautions = serializers.ListField(child=serializers.CharField())


class DeriveView(APIView):
    """A breaking force is not a working load: read the cautions that come with it."""

    @extend_schema(parameters=[DeriveAsked], responses=DerivationAnswer)
    def get(self, request: Request) -> Response:
        """Derive breaking force, length mass and diameter limits."""
        asked = read_query(DeriveAsked, request)
        try:
            found = derive(asked["designation"], asked.get("table"))
        except UnknownCombination as refusal:
            return _unknown(refusal)
        answer = {
            "designation": found.designation.text,
            "assumed": sorted(found.designation.assumed),
            "force": found.force_kn,
            "mass": shown(found.mass),
            "diameter_min": lowest(found.diameter),
            "diameter_max": highest(found.diameter),
            "gaps": found.gaps,
            "others": found.others,
            "cautions": cautions_for(is_sling=False, is_rope_only=True),
        }
        return Response(DerivationAnswer(answer).data)


def _unknown(refusal: UnknownCombination) -> Response:
    """Say what is held near a combination that is not."""
    body = {
        "problem": refusal.message,
        "field": refusal.field,
        "known_nearby": list(refusal.known_nearby),
    }
    return Response(body, status=status.HTTP_400_BAD_REQUEST)
