"""What the breaking tests say of each maker's rope, over the API."""

from decimal import Decimal
from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.derivations import DerivedAnswer, GapAnswer
from certs.api.register import SignedForClaims
from certs.models import BreakingTest
from certs.queries.claim_registers import breaking_tests
from certs.queries.maker_record import MakerRecord, maker_record, maker_records
from certs.rules.derived import Gap
from certs.rules.maker_record import CONFIDENCES, COVERAGES, MakerFigures, Standing
from certs.rules.maker_risk import MakerRisk, maker_risk
from inventory.api.acting import read_query
from inventory.api.fields import Code
from inventory.queries.registers import parties

USUAL = "0.95"
MOST_PERCENT = 50


class MakerRecordAnswer(serializers.Serializer[Any]):
    """A rope of a maker of which samples were broken; `counted` are those that make up figures."""

    mill = serializers.CharField(source="mill.code")
    designation = serializers.CharField()
    tests = serializers.IntegerField()
    counted = serializers.IntegerField()
    exact = serializers.IntegerField()
    failed = serializers.IntegerField()
    latest_at = serializers.DateTimeField()
    is_enough = serializers.BooleanField()


class OneRecordAsked(serializers.Serializer[Any]):
    """A mill by its code and a designation; for which share and how sure the limit is to hold.

    With `uncertainty_pct`, the expanded uncertainty (k = 2) of a test, the risks are told too.
    """

    mill = Code(queryset=parties(kind="mill"))
    designation = serializers.CharField(max_length=80)
    coverage = serializers.ChoiceField([str(one) for one in COVERAGES], default=USUAL)
    confidence = serializers.ChoiceField([str(one) for one in CONFIDENCES], default=USUAL)
    uncertainty_pct = serializers.DecimalField(
        max_digits=6,
        decimal_places=3,
        min_value=Decimal(0),
        max_value=Decimal(MOST_PERCENT),
        required=False,
    )


class ResultAnswer(serializers.Serializer[Any]):
    """One test: its ratio as text, and how it stands in the record."""

    test = serializers.CharField(source="test.code")
    tested_at = serializers.DateTimeField(source="test.tested_at")
    reel = serializers.CharField(source="test.sample.reel.code")
    peak_n = serializers.IntegerField(source="test.peak_n")
    required_n = serializers.IntegerField(source="test.required_n")
    ratio = serializers.CharField(source="result.ratio")
    standing = serializers.ChoiceField(
        [one.value for one in Standing], source="result.standing.value"
    )
    doubts = serializers.ListField(child=serializers.CharField())


class FiguresAnswer(serializers.Serializer[Any]):
    """What enough results give; `outside` names the tests beyond the limits."""

    mean = DerivedAnswer(source="chart.centre")
    lower_limit = DerivedAnswer(source="chart.lower")
    upper_limit = DerivedAnswer(source="chart.upper")
    tolerance_limit = DerivedAnswer(source="tolerance")
    lowest = DerivedAnswer()
    is_reached = serializers.BooleanField()
    remarks = serializers.ListField(child=serializers.CharField())


class RiskAnswer(serializers.Serializer[Any]):
    """Of a thousand reels like these, how many one test would judge wrongly."""

    passed_too_weak = DerivedAnswer()
    failed_though_strong = DerivedAnswer()


class OneRecordAnswer(serializers.Serializer[Any]):
    """The record of one rope of one maker; without figures `gaps` says why."""

    mill = serializers.CharField()
    designation = serializers.CharField()
    results = ResultAnswer(many=True)
    figures = FiguresAnswer(allow_null=True)
    outside = serializers.ListField(child=serializers.CharField())
    risk = RiskAnswer(allow_null=True)
    gaps = GapAnswer(many=True)


class MakerRecordViewSet(SignedForClaims[BreakingTest]):
    """Measured over required force, never pooled over makers, designations or methods."""

    queryset = breaking_tests()
    serializer_class = MakerRecordAnswer

    @extend_schema(responses=MakerRecordAnswer(many=True))
    def list(self, request: Request) -> Response:
        """List the makers and ropes of which samples were broken."""
        return self.page_of(maker_records(), MakerRecordAnswer)

    @extend_schema(parameters=[OneRecordAsked], responses=OneRecordAnswer)
    @action(detail=False, pagination_class=None)
    def record(self, request: Request) -> Response:
        """Tell one record: every test, chart limits, lower tolerance limit and risks.

        Of a rope that was never tested there are no results, and the gap says so.
        """
        asked = read_query(OneRecordAsked, request)
        found = maker_record(mill=asked["mill"], designation=asked["designation"])
        return Response(OneRecordAnswer(_told(found, asked)).data)


def _told(found: MakerRecord, asked: dict[str, Any]) -> dict[str, Any]:
    figures = found.figures(
        coverage=Decimal(asked["coverage"]), confidence=Decimal(asked["confidence"])
    )
    risk = _risk(figures, asked.get("uncertainty_pct"))
    outside = figures.outside if isinstance(figures, MakerFigures) else ()
    return {
        "mill": found.mill.code,
        "designation": found.designation,
        "results": found.points,
        "figures": figures if isinstance(figures, MakerFigures) else None,
        "outside": [found.points[place].test.code for place in outside],
        "risk": risk if isinstance(risk, MakerRisk) else None,
        "gaps": [part for part in (figures, risk) if isinstance(part, Gap)],
    }


def _risk(figures: MakerFigures | Gap, percent: Decimal | None) -> MakerRisk | Gap | None:
    if isinstance(figures, Gap) or percent is None:
        return None
    return maker_risk(figures, expanded_percent=percent)
