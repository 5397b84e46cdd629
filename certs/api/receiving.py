"""Receiving reels over the API, each checked in the same act, and the checks of a reel.

What a reel is otherwise, and what may be done with it, stands in `inventory.api.reels`.
"""

from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_field, extend_schema_view
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.derivations import GivenAnswer, SourceAnswer
from certs.api.register import SignedForClaims
from certs.models import ReceivingCheck
from certs.queries.receiving import Measured
from certs.queries.receiving_checks import checks_of
from certs.queries.specification_tables import agreed_specifications
from certs.rules.finding import Verdict
from certs.rules.measured_diameter import FIELDS, whole_readings
from certs.rules.roles import ClaimAct
from certs.services.check_reel import check_reel
from certs.services.receive_checked import receive_checked_reel
from inventory.api.acting import deed, made, read
from inventory.api.fields import AsGiven, Code, Count, LengthMm
from inventory.api.reel_words import ReelAnswer, ReelAsked, ReelsAsked
from inventory.api.reels import ReelViewSet
from inventory.api.register import CODE
from inventory.models import Reel
from inventory.queries.reel_register import reels_on_record
from inventory.rules.roles import Act
from inventory.rules.units import MAX_DIAMETER_NM


class DiameterNm(serializers.IntegerField):
    """A measured diameter in whole nanometres."""

    def __init__(self, **kwargs: Any) -> None:  # noqa: ANN401 -- the framework's signature
        """Take the arguments of a number; left out, it was not measured."""
        bounds = {"min_value": 1, "max_value": MAX_DIAMETER_NM}
        super().__init__(**{"allow_null": True, "default": None} | bounds | kwargs)


class MeasuredAsked(serializers.Serializer[Any]):
    """What was measured of a reel, and what it is held against; all of it may be left out.

    The readings are four or none: over the crowns, two at right angles in each of two places.
    """

    standard = serializers.CharField(max_length=60, allow_blank=True, default="")
    agreed = serializers.SlugRelatedField(
        slug_field="name", queryset=agreed_specifications(), allow_null=True, default=None
    )
    place1_a_nm = DiameterNm()
    place1_b_nm = DiameterNm()
    place2_a_nm = DiameterNm()
    place2_b_nm = DiameterNm()
    weighed_length_mm = LengthMm(allow_null=True, default=None)
    weighed_mass_g = Count(allow_null=True, default=None, max_value=10**9)
    zinc_class = serializers.CharField(max_length=8, allow_blank=True, default="")
    note = serializers.CharField(max_length=300, allow_blank=True, default="")
    as_given = AsGiven()


class ReceivedAsked(ReelAsked):
    """A reel to receive, with what was measured of it. Metre 0 is its free end as received."""

    measured = MeasuredAsked(required=False)


class FindingAnswer(serializers.Serializer[Any]):
    """One comparison, as it was found: `derived` holds numbers with all they rest on."""

    topic = serializers.CharField()
    verdict = serializers.ChoiceField([verdict.value for verdict in Verdict])
    verdict_text = serializers.CharField()
    text = serializers.CharField()
    rule = serializers.CharField()
    source = SourceAnswer()  # type: ignore[assignment] # a field of this name
    source_text = serializers.CharField()
    given = GivenAnswer(many=True)
    derived = serializers.ListField(child=serializers.DictField())
    warnings = serializers.ListField(child=serializers.CharField())
    is_provisional = serializers.BooleanField()


class CheckAnswer(serializers.ModelSerializer[ReceivingCheck]):
    """A receiving check on record; the one made last stands."""

    reel = Code()
    agreed = serializers.CharField(source="agreed.name", allow_null=True, default=None)
    hold = Code(allow_null=True)
    is_hold_released = serializers.SerializerMethodField()
    as_given = serializers.DictField(child=serializers.CharField())
    findings = FindingAnswer(many=True)

    class Meta:
        model = ReceivingCheck
        fields = [
            "code",
            "reel",
            "outcome",
            "hold",
            "is_hold_released",
            "standard",
            "agreed",
            *FIELDS,
            "weighed_length_mm",
            "weighed_mass_g",
            "zinc_class",
            "as_given",
            "findings",
            "note",
            "checked_at",
        ]

    def get_is_hold_released(self, check: ReceivingCheck) -> bool:
        """Say whether the QA officer has accepted what did not agree."""
        return check.hold is not None and check.hold.released_at is not None


class ReceivedAnswer(ReelAnswer):
    """A reel as received, with its check."""

    check = serializers.SerializerMethodField()

    class Meta(ReelAnswer.Meta):
        fields = [*ReelAnswer.Meta.fields, "check"]

    @extend_schema_field(CheckAnswer)
    def get_check(self, reel: Reel) -> Any:  # noqa: ANN401 -- the framework's signature
        """Give the check that stands."""
        return CheckAnswer(checks_of(reel).first()).data


@extend_schema_view(list=extend_schema(parameters=[ReelsAsked]))
class ReceivedReelViewSet(ReelViewSet):
    """Reels, with their metre scale and where they were wound from."""

    acts = {**ReelViewSet.acts, "create": Act.RECEIVE_REEL}

    @extend_schema(request=ReceivedAsked, responses={201: ReceivedAnswer})
    def create(self, request: Request) -> Response:
        """Receive a reel from the mill and check it; one that does not agree is on hold."""
        asked = read(ReceivedAsked, request)
        measured = _measured(asked.pop("measured", {}))
        check = receive_checked_reel(**asked, measured=measured, **deed(request))
        return made(ReceivedAnswer(check.reel))


class ReelCheckViewSet(SignedForClaims[Reel]):
    """The receiving checks of a reel."""

    queryset = reels_on_record()
    serializer_class = CheckAnswer  # type: ignore[assignment] # what is told of a reel here
    lookup_field = "code"
    lookup_value_regex = CODE
    acts = {"check": ClaimAct.CHECK_REEL}

    @extend_schema(responses=CheckAnswer(many=True))
    @action(detail=True, pagination_class=None)
    def checks(self, request: Request, code: str) -> Response:
        """List every check of the reel, the one that stands first."""
        return Response(CheckAnswer(checks_of(self.get_object()), many=True).data)

    @extend_schema(request=MeasuredAsked, responses={201: CheckAnswer})
    @checks.mapping.post
    def check(self, request: Request, code: str) -> Response:
        """Check the reel as it is measured now; if it does not agree, it is on hold."""
        reel = self.get_object()
        measured = _measured(read(MeasuredAsked, request))
        return made(CheckAnswer(check_reel(reel=reel, measured=measured, **deed(request))))


def _measured(asked: dict[str, Any]) -> Measured:
    readings = whole_readings({name: asked.pop(name, None) for name in FIELDS})
    return Measured(readings=readings, **asked)
