"""Tests of the wires of a rope over the API: forces as measured, verdicts with all they rest on."""

from decimal import Decimal
from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.register import ClaimRegister
from certs.models import WireResult, WireTest
from certs.queries.wire_tests import wire_tests
from certs.rules.roles import ClaimAct
from certs.rules.wire_strength import LONGEST_LAYER, MN_PER_N, Wire
from certs.services.record_tests import record_wire_test
from certs.services.reverse_test import reverse_test
from inventory.api.acting import deed, made, read
from inventory.api.fields import Code, Count, ReasonAsked
from inventory.queries.cut_pieces import cut_pieces
from inventory.queries.reel_register import reels_on_record
from inventory.queries.registers import machines
from inventory.rules.units import MAX_DIAMETER_NM, MAX_FORCE_N

# A decimal as text, so that every figure given is kept.
FACTOR = r"^(0\.[0-9]{1,10}|1(\.0{1,10})?)$"


class ForceMn(serializers.IntegerField):
    """A force in whole thousandths of a newton."""

    def __init__(self, **kwargs: Any) -> None:  # noqa: ANN401 -- the framework's signature
        """Take the arguments of a number."""
        super().__init__(**{"min_value": 1, "max_value": MAX_FORCE_N * MN_PER_N} | kwargs)


class WireAsked(serializers.Serializer[Any]):
    """One wire: its force in thousandths of a newton, that of a retest, how many it stands for."""

    layer = serializers.CharField(max_length=LONGEST_LAYER)
    diameter_nm = serializers.IntegerField(min_value=1, max_value=MAX_DIAMETER_NM)
    force_mn = ForceMn()
    represents = Count(default=1)
    retest_force_mn = ForceMn(allow_null=True, default=None)


class WireTestAsked(serializers.Serializer[Any]):
    """Wires taken from a sample (method 2), or tested before laying (method 3, with a paper).

    `spinning_factors` are the three of a type test, of which the lowest counts, or one that a
    paper states: partial for method 2, total for method 3. Without any no force is calculated.
    """

    method = serializers.ChoiceField(WireTest.Method.choices)
    sample = Code(queryset=cut_pieces(), allow_null=True, default=None)
    reel = Code(queryset=reels_on_record(), allow_null=True, default=None)
    machine = Code(queryset=machines(), allow_null=True, default=None)
    paper = serializers.CharField(max_length=200, allow_blank=True, default="")
    tested_at = serializers.DateTimeField()
    wires = WireAsked(many=True, allow_empty=False)
    spinning_factors = serializers.ListField(
        child=serializers.RegexField(FACTOR, max_length=12), default=list, max_length=3
    )
    spinning_source = serializers.CharField(max_length=200, allow_blank=True, default="")
    note = serializers.CharField(max_length=300, allow_blank=True, default="")


class WireTestsAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    reel = serializers.CharField(required=False, source="reel__code")
    outcome = serializers.ChoiceField(WireTest.Outcome.choices, required=False)
    grade_outcome = serializers.ChoiceField(WireTest.GradeOutcome.choices, required=False)


class WireAnswer(serializers.ModelSerializer[WireResult]):
    """A wire on record."""

    class Meta:
        model = WireResult
        fields = ["position", "layer", "diameter_nm", "force_mn", "represents", "retest_force_mn"]


class WireTestAnswer(serializers.ModelSerializer[WireTest]):
    """A test on record: facts as measured, and the verdicts of that day with their derivations."""

    reel = Code()
    sample = serializers.CharField(source="sample.code", allow_null=True, default=None)
    machine = serializers.CharField(source="machine.code", allow_null=True, default=None)
    calibration = serializers.CharField(
        source="calibration.certificate_number", allow_null=True, default=None
    )
    wires = WireAnswer(many=True)
    findings = serializers.ListField(child=serializers.DictField())
    machine_problems = serializers.ListField(child=serializers.CharField())
    reversed_at = serializers.DateTimeField(
        source="reversal.reversed_at", allow_null=True, default=None
    )
    reversal_reason = serializers.CharField(source="reversal.reason", allow_null=True, default=None)

    class Meta:
        model = WireTest
        fields = [
            "code",
            "reel",
            "method",
            "sample",
            "paper",
            "machine",
            "calibration",
            "tested_at",
            "required_n",
            "spinning_factor",
            "spinning_source",
            "sum_n",
            "calculated_n",
            "supported_grade",
            "outcome",
            "grade_outcome",
            "wires",
            "findings",
            "machine_problems",
            "note",
            "recorded_at",
            "reversed_at",
            "reversal_reason",
        ]


@extend_schema_view(list=extend_schema(parameters=[WireTestsAsked]))
class WireTestViewSet(ClaimRegister[WireTest]):
    """Tests of the wires of ropes. A calculated force changes nothing of a certified one."""

    queryset = wire_tests().select_related("calibration").prefetch_related("wires")
    serializer_class = WireTestAnswer
    narrowed_by = WireTestsAsked
    acts = {"create": ClaimAct.RECORD_WIRE_TEST, "reverse": ClaimAct.REVERSE_TEST}

    @extend_schema(request=WireTestAsked, responses={201: WireTestAnswer})
    def create(self, request: Request) -> Response:
        """Record the wires of one rope."""
        asked = read(WireTestAsked, request)
        asked["spinning_factors"] = [Decimal(text) for text in asked["spinning_factors"]]
        wires = [Wire(**wire) for wire in asked.pop("wires")]
        return made(WireTestAnswer(record_wire_test(**asked, wires=wires, **deed(request))))

    @extend_schema(request=ReasonAsked, responses=WireTestAnswer)
    @action(detail=True, methods=["post"])
    def reverse(self, request: Request, code: str) -> Response:
        """Take back a test that was recorded wrongly; it stays readable and counts for nothing."""
        test = self.get_object()
        reverse_test(test=test, **read(ReasonAsked, request), **deed(request))
        return Response(WireTestAnswer(self.get_object()).data)
