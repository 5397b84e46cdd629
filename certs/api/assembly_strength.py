"""The strength of an assembly over the API: what it may carry, or what stands in the way."""

from decimal import Decimal
from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.derivations import DerivedAnswer, SourceAnswer
from certs.api.register import SignedForClaims
from certs.queries.proof_asked import proof_asked
from certs.queries.proof_held import proof_held
from certs.queries.rating_words import difference_text
from certs.queries.sling_ratings import RatedLoad
from certs.queries.strength import assembly_strength
from certs.rules.finding import Verdict
from certs.rules.marked_load import mark_checks
from certs.rules.proof_regime import Applies
from inventory.api.acting import read_query
from inventory.api.register import CODE
from inventory.models import Assembly
from inventory.queries.registers import assemblies

_TOLD = (
    "assembly", "convention", "pieces", "weakest_link", "force", "leg", "loads", "findings",
    "problems", "cautions",
)  # fmt: skip


class StrengthLookAsked(serializers.Serializer[Any]):
    """Figures to hold against it; nothing of them is kept.

    `marked_t` is a load to be marked, `lay_mm` the length of one lay of the rope as measured; one
    that is recorded with the reel goes before it.
    """

    marked_t = serializers.DecimalField(
        max_digits=9, decimal_places=4, min_value=Decimal("0.0001"), required=False
    )
    lay_mm = serializers.DecimalField(
        max_digits=7, decimal_places=1, min_value=Decimal(1), required=False
    )


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
    convention = serializers.CharField(source="legs.convention.words")
    leg_factor = serializers.CharField(source="legs.factor")
    governing_t = serializers.CharField(source="rating.governing_t")
    governed_by = serializers.CharField(source="rating.governed_by")
    formula = DerivedAnswer(source="rating.formula")
    published = PublishedLoadAnswer(source="rating.published", allow_null=True)
    printed_off_formula = serializers.SerializerMethodField()

    def get_printed_off_formula(self, load: RatedLoad) -> str:
        """Tell by how much the printed value lies off the formula; empty without one."""
        return difference_text(load)


class BuildFindingAnswer(serializers.Serializer[Any]):
    """One comparison with a limit. Of how it was built, what disagrees stops the rating."""

    topic = serializers.CharField()
    verdict = serializers.ChoiceField([(one.value, one.words) for one in Verdict])
    text = serializers.CharField()
    rule = serializers.CharField()
    source = SourceAnswer()  # type: ignore[assignment] # a field of this name
    warnings = serializers.ListField(child=serializers.CharField())
    derived = DerivedAnswer(many=True)


class ProofAskedAnswer(serializers.Serializer[Any]):
    """One load that a rule asks for; `proof` is null where `refusal` says why."""

    rule = serializers.CharField(source="row.item")
    printed = serializers.CharField(source="row.printed")
    is_ceiling = serializers.BooleanField(source="row.is_ceiling")
    legs = serializers.CharField(source="load.legs.text")
    rated_t = serializers.CharField(source="load.rating.governing_t")
    proof = DerivedAnswer(allow_null=True)
    refusal = serializers.CharField(allow_blank=True)


class ProofRegimeAnswer(serializers.Serializer[Any]):
    """Rules on proof loads: whether they apply, why, and what they ask for."""

    name = serializers.CharField(source="regime.name")
    applies = serializers.ChoiceField(
        [(one.value, one.words) for one in Applies], source="regime.applies"
    )
    reason = serializers.CharField(source="regime.reason")
    source = SourceAnswer(source="regime.source")  # type: ignore[assignment] # a field of this name
    asked = ProofAskedAnswer(many=True)


class MarkAnswer(serializers.Serializer[Any]):
    """Whether the load asked about may be marked for these legs."""

    legs = serializers.CharField(source="legs.text")
    marked_t = serializers.CharField()
    governing_t = serializers.CharField()
    may_be_marked = serializers.BooleanField()
    text = serializers.CharField()


class AssemblyStrengthAnswer(serializers.Serializer[Any]):
    """Strength of an assembly. With `problems` nothing is rated."""

    assembly = serializers.CharField(source="assembly.code")
    use = serializers.CharField(source="assembly.use")
    convention = serializers.CharField()
    pieces = PieceStrengthAnswer(many=True)
    weakest_link = serializers.CharField(allow_blank=True)
    force = DerivedAnswer(allow_null=True)
    leg = RatedLoadAnswer(allow_null=True)
    loads = RatedLoadAnswer(many=True)
    findings = BuildFindingAnswer(many=True)
    proof_rules = ProofRegimeAnswer(many=True)
    proof_held = BuildFindingAnswer(many=True)
    marks = MarkAnswer(many=True)
    problems = serializers.ListField(child=serializers.CharField())
    cautions = serializers.ListField(child=serializers.CharField())


class AssemblyStrengthViewSet(SignedForClaims[Assembly]):
    """What is claimed of an assembly."""

    queryset = assemblies()
    serializer_class = AssemblyStrengthAnswer
    lookup_field = "code"
    lookup_value_regex = CODE

    @extend_schema(parameters=[StrengthLookAsked], responses=AssemblyStrengthAnswer)
    @action(detail=True)
    def strength(self, request: Request, code: str) -> Response:
        """Tell the weakest link, the working load limits, how it was built and what proves it."""
        look = read_query(StrengthLookAsked, request)
        strength = assembly_strength(self.get_object(), lay_mm=look.get("lay_mm"))
        rated = ((load.legs, load.rating) for load in strength.loads)
        marked_t = look.get("marked_t")
        told = {
            **{name: getattr(strength, name) for name in _TOLD},
            "proof_rules": proof_asked(strength),
            "proof_held": proof_held(strength),
            "marks": () if marked_t is None else mark_checks(marked_t, rated),
        }
        return Response(AssemblyStrengthAnswer(told).data)
