"""Proof-load tests over the API: peak, plateau and hold are found in the log, never typed."""

from typing import Any

from django.http import HttpResponse
from django.utils import timezone
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema, extend_schema_field, extend_schema_view
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.parsers import JSONParser, MultiPartParser
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.breaking_tests import with_log
from certs.api.proof_bounds import ExtensionAnswer, ForceToShowAnswer, ForceToShowAsked
from certs.api.register import ClaimRegister
from certs.models import ProofTest
from certs.queries.claim_registers import proof_tests
from certs.queries.decision_rules import decision_rules
from certs.queries.force_asked import force_asked, force_asked_of
from certs.queries.proof_extension import extension_on_record
from certs.rules.roles import ClaimAct
from certs.services.record_tests import record_proof_test
from certs.services.reverse_test import reverse_test
from inventory.api.acting import deed, kept, made, read, read_query
from inventory.api.fields import AsGiven, AsGivenAnswer, Code, ForceN, GaugeUm, ReasonAsked
from inventory.queries.registers import assemblies, machines

LONGEST_HOLD_S = 86_400


class ProofTestAsked(serializers.Serializer[Any]):
    """A proof load with its force log (CSV). `rule` names where the load comes from."""

    assembly = Code(queryset=assemblies())
    machine = Code(queryset=machines())
    tested_at = serializers.DateTimeField()
    required_n = ForceN()
    required_hold_s = serializers.IntegerField(min_value=0, max_value=LONGEST_HOLD_S)
    rule = serializers.CharField(max_length=200)
    log = serializers.FileField()
    log_force_unit = serializers.CharField(max_length=12, allow_blank=True, required=False)
    as_given = AsGiven()
    log_time_unit = serializers.CharField(max_length=12, allow_blank=True, required=False)
    ceiling_n = ForceN(allow_null=True, default=None)
    before_is_good = serializers.BooleanField()
    before_note = serializers.CharField(max_length=300, allow_blank=True, default="")
    after_is_good = serializers.BooleanField()
    after_note = serializers.CharField(max_length=300, allow_blank=True, default="")
    gauge_before_um = GaugeUm(allow_null=True, default=None)
    gauge_after_um = GaugeUm(allow_null=True, default=None)
    extension_limit_pct = serializers.CharField(max_length=12, allow_blank=True, default="")
    decision_rule = Code(queryset=decision_rules(), allow_null=True, default=None)


class ProofTestsAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    assembly = serializers.CharField(required=False, source="assembly__code")
    outcome = serializers.ChoiceField(ProofTest.Outcome.choices, required=False)


class LineProblemAnswer(serializers.Serializer[Any]):
    """A line of the log that was not used."""

    line = serializers.IntegerField()
    text = serializers.CharField(allow_blank=True)
    reason = serializers.CharField()


class ProofTestAnswer(serializers.ModelSerializer[ProofTest]):
    """A test on record: what the log shows, and the verdict of that day."""

    assembly = Code()
    machine = Code()
    calibration = serializers.CharField(
        source="calibration.certificate_number", allow_null=True, default=None
    )
    log_sha256 = serializers.CharField(source="log.sha256")
    line_problems = LineProblemAnswer(many=True)
    decision_rule = Code(allow_null=True)
    uncertainty = serializers.DictField()
    decision = serializers.DictField()
    as_given = AsGivenAnswer(read_only=True)
    extension = serializers.SerializerMethodField()
    machine_problems = serializers.ListField(child=serializers.CharField())
    reasons = serializers.ListField(child=serializers.CharField())
    reversed_at = serializers.DateTimeField(
        source="reversal.reversed_at", allow_null=True, default=None
    )
    reversal_reason = serializers.CharField(source="reversal.reason", allow_null=True, default=None)

    class Meta:
        model = ProofTest
        fields = [
            "code",
            "assembly",
            "machine",
            "calibration",
            "tested_at",
            "required_n",
            "required_hold_s",
            "ceiling_n",
            "rule",
            "log_sha256",
            "log_force_unit",
            "log_time_unit",
            "peak_n",
            "plateau_from_ms",
            "plateau_to_ms",
            "plateau_lowest_n",
            "line_problems",
            "before_is_good",
            "before_note",
            "after_is_good",
            "after_note",
            "gauge_before_um",
            "gauge_after_um",
            "extension_limit_pct",
            "extension",
            "outcome",
            "as_given",
            "decision_rule",
            "uncertainty",
            "decision",
            "machine_problems",
            "reasons",
            "recorded_at",
            "reversed_at",
            "reversal_reason",
        ]

    @extend_schema_field(ExtensionAnswer(allow_null=True))
    def get_extension(self, test: ProofTest) -> dict[str, Any] | None:
        """Derive what stayed of the load, where it was measured."""
        found = extension_on_record(test)
        return None if found is None else dict(ExtensionAnswer(found).data)


@extend_schema_view(list=extend_schema(parameters=[ProofTestsAsked]))
class ProofTestViewSet(ClaimRegister[ProofTest]):
    """Proof loads on assemblies."""

    queryset = proof_tests().select_related("calibration", "log", "decision_rule")
    serializer_class = ProofTestAnswer
    narrowed_by = ProofTestsAsked
    parser_classes = [MultiPartParser]
    acts = {"create": ClaimAct.RECORD_PROOF_TEST, "reverse": ClaimAct.REVERSE_TEST}

    @extend_schema(request=ProofTestAsked, responses={201: ProofTestAnswer})
    def create(self, request: Request) -> Response:
        """Record a proof load from the log of the machine."""
        asked = with_log(read(ProofTestAsked, request))
        return made(ProofTestAnswer(record_proof_test(**asked, **deed(request))))

    @extend_schema(request=ReasonAsked, responses=ProofTestAnswer)
    @action(detail=True, methods=["post"], parser_classes=[JSONParser, MultiPartParser])
    def reverse(self, request: Request, code: str) -> Response:
        """Take back a test that was recorded wrongly; it stays readable and counts for nothing."""
        test = self.get_object()
        reverse_test(test=test, **read(ReasonAsked, request), **deed(request))
        return Response(ProofTestAnswer(self.get_object()).data)

    @extend_schema(parameters=[ForceToShowAsked], responses=ForceToShowAnswer, filters=False)
    @action(detail=False, url_path="force-to-show", pagination_class=None)
    def force_to_show(self, request: Request) -> Response:
        """Tell what a machine must show today; nothing is recorded."""
        asked = read_query(ForceToShowAsked, request)
        return Response(ForceToShowAnswer(force_asked(day=timezone.localdate(), **asked)).data)

    @extend_schema(responses=ForceToShowAnswer)
    @action(detail=True)
    def bounds(self, request: Request, code: str) -> Response:
        """Tell what the machine had to show in this test."""
        return Response(ForceToShowAnswer(force_asked_of(self.get_object())).data)

    @extend_schema(responses={(200, "text/csv"): OpenApiTypes.BINARY})
    @action(detail=True)
    def log(self, request: Request, code: str) -> HttpResponse:
        """Get the force log as the machine wrote it."""
        return kept(self.get_object().log)
