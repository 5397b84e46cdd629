"""The strength of a reel over the API: on what it is certified, and what may be named for it."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.derivations import DerivedAnswer, GapAnswer, gaps_in, highest, lowest, shown
from certs.api.register import SignedForClaims
from certs.models import StrengthBasis
from certs.queries.breaking_records import breaking_record_of
from certs.queries.derivation import (
    certified_force,
    diameter_limits,
    length_mass,
    named_basis,
    suggested_bases,
)
from certs.queries.grade import grade_of
from certs.queries.specification_tables import TABLES, agreed_specifications, rows_of
from certs.queries.wire_tests import route_of
from certs.rules.breaking_record import BreakingStanding
from certs.rules.cautions import cautions_for
from certs.rules.certified_grade import GradeStanding
from certs.rules.force_route import Standing
from certs.rules.roles import ClaimAct
from certs.services.specify import name_basis
from inventory.api.acting import deed, made, read
from inventory.api.register import CODE
from inventory.models import Reel
from inventory.queries.reel_register import reels_on_record


def _row(slug: str, key: str = "key") -> serializers.SlugRelatedField[Any]:
    rows: Any = rows_of(TABLES[slug]) if slug else agreed_specifications()
    return serializers.SlugRelatedField(
        slug_field=key, queryset=rows, allow_null=True, default=None
    )


class BasisAsked(serializers.Serializer[Any]):
    """A basis to name: its kind, the one row that belongs to the kind, and why."""

    kind = serializers.ChoiceField(StrengthBasis.Kind.choices)
    factor = _row("breaking-force-factors")
    tabulated = _row("breaking-forces")
    agreed = _row("", key="name")
    reason = serializers.CharField(max_length=300)


class RowsOfBasis(serializers.Serializer[Any]):
    """The row that a basis is: a key of a specification table, or the name of an agreement."""

    kind = serializers.ChoiceField(StrengthBasis.Kind.choices)
    factor = serializers.CharField(source="factor.key", allow_null=True, default=None)
    tabulated = serializers.CharField(source="tabulated.key", allow_null=True, default=None)
    agreed = serializers.CharField(source="agreed.name", allow_null=True, default=None)


class BasisAnswer(RowsOfBasis):
    """A basis that was named."""

    reason = serializers.CharField()
    named_at = serializers.DateTimeField()


class SuggestionAnswer(RowsOfBasis):
    """A basis that could be named, with the force it gives."""

    force = DerivedAnswer()


class GradeAnswer(serializers.Serializer[Any]):
    """The tensile grade that may be stated, and how far the record stands behind it."""

    stated = serializers.CharField(allow_blank=True)
    standing = serializers.ChoiceField([one.value for one in GradeStanding])
    text = serializers.CharField()
    reasons = serializers.ListField(child=serializers.CharField())
    information = serializers.ListField(child=serializers.CharField())


class RouteAnswer(serializers.Serializer[Any]):
    """Where the rope stands on the way from its wires to an actual break (ISO 10425 5.1.4)."""

    standing = serializers.ChoiceField([one.value for one in Standing])
    done = serializers.ListField(child=serializers.CharField())
    next_step = serializers.CharField()
    blocks = serializers.BooleanField()


class BreakingRecordAnswer(serializers.Serializer[Any]):
    """What the breaking-force tests on the mill reel's rope amount to, and what to do."""

    standing = serializers.ChoiceField([one.value for one in BreakingStanding])
    words = serializers.CharField()
    reasons = serializers.ListField(child=serializers.CharField())
    derated_n = serializers.IntegerField(allow_null=True)
    open_tests = serializers.ListField(child=serializers.CharField())
    to_do = serializers.ListField(child=serializers.CharField())


class ReelStrengthAnswer(serializers.Serializer[Any]):
    """What is certified of a reel's rope, with all it rests on."""

    basis = BasisAnswer()
    force = DerivedAnswer()
    grade = GradeAnswer()
    breaking_record = BreakingRecordAnswer()
    route = RouteAnswer()
    mass = DerivedAnswer(allow_null=True)
    diameter_min = DerivedAnswer(allow_null=True)
    diameter_max = DerivedAnswer(allow_null=True)
    gaps = GapAnswer(many=True)
    cautions = serializers.ListField(child=serializers.CharField())


class ReelStrengthViewSet(SignedForClaims[Reel]):
    """What is claimed of the rope on a reel."""

    queryset = reels_on_record()
    serializer_class = ReelStrengthAnswer
    lookup_field = "code"
    lookup_value_regex = CODE
    acts = {"name_one": ClaimAct.NAME_BASIS}

    @extend_schema(responses=ReelStrengthAnswer)
    @action(detail=True)
    def strength(self, request: Request, code: str) -> Response:
        """Tell the certified breaking force, mass and diameter limits."""
        reel = self.get_object()
        force, mass, limits = certified_force(reel), length_mass(reel), diameter_limits(reel)
        answer = {
            "basis": named_basis(reel),
            "force": force,
            "grade": grade_of(reel),
            "breaking_record": breaking_record_of(reel),
            "route": route_of(reel),
            "mass": shown(mass),
            "diameter_min": lowest(limits),
            "diameter_max": highest(limits),
            "gaps": gaps_in(mass, limits),
            "cautions": cautions_for(is_sling=False, is_rope_only=True),
        }
        return Response(ReelStrengthAnswer(answer).data)

    @extend_schema(responses=SuggestionAnswer(many=True))
    @action(detail=True, pagination_class=None)
    def bases(self, request: Request, code: str) -> Response:
        """List what may be named as the basis, the lowest force first."""
        found = suggested_bases(self.get_object().designation)
        return Response(SuggestionAnswer(found, many=True).data)

    @extend_schema(request=BasisAsked, responses={201: BasisAnswer})
    @bases.mapping.post
    def name_one(self, request: Request, code: str) -> Response:
        """Name the basis that stands from now on."""
        reel = self.get_object()
        basis = name_basis(reel=reel, **read(BasisAsked, request), **deed(request))
        return made(BasisAnswer(basis))
