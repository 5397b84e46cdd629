"""Breaking-force tests over the API."""

from typing import Any

from django.http import Http404, HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.derivations import DerivedAnswer
from certs.api.register import ClaimRegister
from certs.models import BreakingTest
from certs.queries.claim_registers import breaking_tests
from certs.queries.decision_rules import decision_rules
from certs.queries.test_facts import loading_on_record
from certs.rules.loading_verdict import LoadingFinding
from certs.rules.roles import ClaimAct
from certs.services.record_tests import record_breaking_test
from certs.services.reverse_test import reverse_test
from inventory.api.acting import deed, kept, made, read
from inventory.api.fields import AsGiven, AsGivenAnswer, Code, ForceN, LengthMm, ReasonAsked
from inventory.queries.cut_pieces import cut_pieces
from inventory.queries.registers import machines

COLDEST_C, HOTTEST_C = -273, 2000


class BreakingTestAsked(serializers.Serializer[Any]):
    """A test on a sample: the greatest force, or the force log that it is found in.

    `break_distance_mm` is from the break to the nearest grip; leave it out when the rope broke in
    the clear, and set `is_break_place_known` false where nobody wrote down where it broke.
    `free_length_asked_mm` goes with `free_length_source`, the standard or order that asks for it.
    `retest_of` is the discounted test that this one repeats.
    """

    sample = Code(queryset=cut_pieces())
    machine = Code(queryset=machines())
    tested_at = serializers.DateTimeField()
    peak_n = ForceN(allow_null=True, default=None)
    log = serializers.FileField(allow_null=True, default=None)
    log_force_unit = serializers.CharField(max_length=12, allow_blank=True, required=False)
    as_given = AsGiven()
    log_time_unit = serializers.CharField(max_length=12, allow_blank=True, required=False)
    break_distance_mm = LengthMm(allow_null=True, default=None)
    is_break_place_known = serializers.BooleanField(default=True)
    free_length_mm = LengthMm(allow_null=True, default=None)
    free_length_asked_mm = LengthMm(allow_null=True, default=None)
    free_length_source = serializers.CharField(max_length=200, allow_blank=True, default="")
    retest_of = Code(queryset=BreakingTest.objects.all(), allow_null=True, default=None)
    temperature_c = serializers.IntegerField(
        min_value=COLDEST_C, max_value=HOTTEST_C, allow_null=True, default=None
    )
    note = serializers.CharField(max_length=300, allow_blank=True, default="")
    decision_rule = Code(queryset=decision_rules(), allow_null=True, default=None)


class BreakingTestsAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    reel = serializers.CharField(required=False, source="sample__reel__code")
    sample = serializers.CharField(required=False, source="sample__code")
    outcome = serializers.ChoiceField(BreakingTest.Outcome.choices, required=False)


class BreakingTestAnswer(serializers.ModelSerializer[BreakingTest]):
    """A test on record: facts as measured, and the verdict of that day."""

    sample = Code()
    reel = Code(source="sample.reel")
    machine = Code()
    calibration = serializers.CharField(
        source="calibration.certificate_number", allow_null=True, default=None
    )
    log_sha256 = serializers.CharField(source="log.sha256", allow_null=True, default=None)
    retest_of = Code(allow_null=True)
    repeated_by = serializers.CharField(source="retest.code", allow_null=True, default=None)
    decision_rule = Code(allow_null=True)
    uncertainty = serializers.DictField()
    decision = serializers.DictField()
    as_given = AsGivenAnswer(read_only=True)
    machine_problems = serializers.ListField(child=serializers.CharField())
    reasons = serializers.ListField(child=serializers.CharField())
    reversed_at = serializers.DateTimeField(
        source="reversal.reversed_at", allow_null=True, default=None
    )
    reversal_reason = serializers.CharField(source="reversal.reason", allow_null=True, default=None)

    class Meta:
        model = BreakingTest
        fields = [
            "code",
            "sample",
            "reel",
            "machine",
            "calibration",
            "tested_at",
            "required_n",
            "peak_n",
            "break_distance_mm",
            "is_break_place_known",
            "free_length_mm",
            "free_length_asked_mm",
            "free_length_source",
            "temperature_c",
            "log_sha256",
            "outcome",
            "as_given",
            "retest_of",
            "repeated_by",
            "decision_rule",
            "uncertainty",
            "decision",
            "machine_problems",
            "reasons",
            "note",
            "recorded_at",
            "reversed_at",
            "reversal_reason",
        ]


class LoadingAnswer(serializers.Serializer[Any]):
    """The loading that a log shows; times in ms on its clock, rates in % of the force per s."""

    required_n = serializers.IntegerField()
    mark_n = serializers.IntegerField()
    peak_n = serializers.IntegerField()
    started_ms = serializers.IntegerField(allow_null=True)
    marked_ms = serializers.IntegerField(allow_null=True)
    peak_ms = serializers.IntegerField()
    slow_ms = serializers.IntegerField(allow_null=True)
    unseen_ms = serializers.IntegerField()
    greatest_from_ms = serializers.IntegerField(allow_null=True)
    greatest_to_ms = serializers.IntegerField(allow_null=True)
    fast = DerivedAnswer(allow_null=True)
    mean = DerivedAnswer(allow_null=True)
    greatest = DerivedAnswer(allow_null=True)
    finding = serializers.ChoiceField([one.value for one in LoadingFinding])
    finding_text = serializers.CharField()
    deviations = serializers.ListField(child=serializers.CharField())


@extend_schema_view(list=extend_schema(parameters=[BreakingTestsAsked]))
class BreakingTestViewSet(ClaimRegister[BreakingTest]):
    """Breaks of samples."""

    queryset = breaking_tests().select_related(
        "calibration", "log", "decision_rule", "retest_of", "retest"
    )
    serializer_class = BreakingTestAnswer
    narrowed_by = BreakingTestsAsked
    acts = {"create": ClaimAct.RECORD_BREAKING_TEST, "reverse": ClaimAct.REVERSE_TEST}

    @extend_schema(request=BreakingTestAsked, responses={201: BreakingTestAnswer})
    def create(self, request: Request) -> Response:
        """Record a test; a log governs over a force that was typed."""
        asked = with_log(read(BreakingTestAsked, request))
        test = record_breaking_test(**asked, **deed(request))
        return made(BreakingTestAnswer(test))

    @extend_schema(request=ReasonAsked, responses=BreakingTestAnswer)
    @action(detail=True, methods=["post"])
    def reverse(self, request: Request, code: str) -> Response:
        """Take back a test that was recorded wrongly; it stays readable and counts for nothing."""
        test = self.get_object()
        reverse_test(test=test, **read(ReasonAsked, request), **deed(request))
        return Response(BreakingTestAnswer(self.get_object()).data)

    @extend_schema(responses={(200, "text/csv"): OpenApiTypes.BINARY})
    @action(detail=True)
    def log(self, request: Request, code: str) -> HttpResponse:
        """Get the force log as the machine wrote it."""
        log = self.get_object().log
        if log is None:
            raise Http404
        return kept(log)

    @extend_schema(responses=LoadingAnswer)
    @action(detail=True)
    def loading(self, request: Request, code: str) -> Response:
        """Tell how the sample was loaded: up to 80 % of the required force, and from there."""
        told = loading_on_record(self.get_object())
        if told is None:
            raise Http404
        return Response(told)


def with_log(asked: dict[str, Any]) -> dict[str, Any]:
    """Give the bytes and the name of the log in place of the file."""
    file = asked["log"]
    if file is None:
        return asked
    return {**asked, "log": file.read(), "log_name": file.name}
