"""Decision rules over the API, and what a measurement would tell under one."""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.register import ClaimRegister
from certs.models import DecisionRule
from certs.queries.decision_rules import decision_rules, rule_of
from certs.queries.what_if import Asked, Production, WhatIf, what_if
from certs.rules.derived import trimmed
from certs.rules.roles import ClaimAct
from certs.rules.uncertainty_component import kept
from certs.services.decision_rules import choose_rule
from inventory.api.acting import deed, made, read, read_query
from inventory.api.fields import Code, ForceN
from inventory.models import Party
from inventory.queries.registers import machines, parties


class DecisionRuleAsked(serializers.Serializer[Any]):
    """A rule to be chosen: simple acceptance, or a guard band of `multiple` times U."""

    name = serializers.CharField(max_length=80)
    kind = serializers.ChoiceField(DecisionRule.Kind.choices)
    multiple = serializers.CharField(max_length=20, allow_blank=True, default="")
    agreed_with = Code(queryset=parties(kind=Party.Kind.CUSTOMER), allow_null=True, default=None)
    paper = serializers.CharField(max_length=200)


class DecisionRuleAnswer(serializers.ModelSerializer[DecisionRule]):
    """A rule on record; `words` say it in one sentence."""

    agreed_with = Code(allow_null=True)
    words = serializers.SerializerMethodField()

    class Meta:
        model = DecisionRule
        fields = ["code", "name", "kind", "multiple", "words", "agreed_with", "paper", "chosen_at"]

    def get_words(self, rule: DecisionRule) -> str:
        """Say the rule."""
        return rule_of(rule).words


class WhatIfAsked(serializers.Serializer[Any]):
    """A measurement that has not been made; mean and deviation of the production together."""

    machine = Code(queryset=machines())
    measured_n = ForceN()
    required_n = ForceN()
    upper_n = ForceN(allow_null=True, default=None)
    decision_rule = Code(queryset=decision_rules(), allow_null=True, default=None)
    mean_n = ForceN(allow_null=True, default=None)
    sd_n = ForceN(allow_null=True, default=None)

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Mean and deviation come together."""
        if (attrs["mean_n"] is None) != (attrs["sd_n"] is None):
            raise serializers.ValidationError({"sd_n": "mean_n and sd_n belong together."})
        return attrs


class SureForceAnswer(serializers.Serializer[Any]):
    """The least force in N to be measured so that the true one reaches the limit so probably."""

    probability = serializers.CharField()
    force_n = serializers.CharField()


class ProductionRiskAnswer(serializers.Serializer[Any]):
    """Shares of the whole production, as text."""

    conforming = serializers.CharField()
    accepted = serializers.CharField()
    consumers = serializers.CharField()
    producers = serializers.CharField()


class ProductionCapabilityAnswer(serializers.Serializer[Any]):
    """Cp, where there are two limits, and Cpk."""

    cp = serializers.CharField(allow_null=True)
    cpk = serializers.CharField()


class WhatIfAnswer(serializers.Serializer[Any]):
    """What would be known; null where it cannot be computed, and `problems` say why."""

    calibration = serializers.CharField(allow_null=True)
    uncertainty = serializers.DictField()
    decision = serializers.DictField()
    sure_forces = SureForceAnswer(many=True)
    risk = ProductionRiskAnswer(allow_null=True)
    capability = ProductionCapabilityAnswer(allow_null=True)
    problems = serializers.ListField(child=serializers.CharField())


class DecisionRuleViewSet(ClaimRegister[DecisionRule]):
    """How the uncertainty of a measured force counts."""

    queryset = decision_rules()
    serializer_class = DecisionRuleAnswer
    acts = {"create": ClaimAct.CHOOSE_DECISION_RULE}

    @extend_schema(request=DecisionRuleAsked, responses={201: DecisionRuleAnswer})
    def create(self, request: Request) -> Response:
        """Choose a rule; it counts for tests from now on."""
        rule = choose_rule(**read(DecisionRuleAsked, request), **deed(request))
        return made(DecisionRuleAnswer(rule))

    @extend_schema(parameters=[WhatIfAsked], responses=WhatIfAnswer, filters=False)
    @action(detail=False, url_path="what-if", pagination_class=None)
    def what_if(self, request: Request) -> Response:
        """Tell what a force would say of a limit, if it were measured; nothing is recorded."""
        asked = read_query(WhatIfAsked, request)
        mean_n, sd_n = asked.pop("mean_n"), asked.pop("sd_n")
        production = None if mean_n is None or sd_n is None else Production(mean_n, sd_n)
        found = what_if(Asked(**asked, production=production), on=timezone.localdate())
        return Response(WhatIfAnswer(_answer(found)).data)


def _answer(found: WhatIf) -> dict[str, Any]:
    risk, process = found.risk, found.capability
    return {
        "calibration": found.calibration.certificate_number if found.calibration else None,
        "uncertainty": found.budget.as_json() if found.budget else {},
        "decision": found.decision.as_json(),
        "sure_forces": [
            {"probability": trimmed(one.probability), "force_n": kept(one.force_n)}
            for one in found.sure_forces
        ],
        "risk": risk
        and {
            "conforming": repr(risk.conforming),
            "accepted": repr(risk.accepted),
            "consumers": repr(risk.consumers),
            "producers": repr(risk.producers),
        },
        "capability": process
        and {"cp": None if process.cp is None else kept(process.cp), "cpk": kept(process.cpk)},
        "problems": list(found.problems),
    }
