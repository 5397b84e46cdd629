"""Holds over the API."""

from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.api.acting import deed, made, read
from inventory.api.fields import HeldThing, LengthMm, ReasonAsked
from inventory.api.register import Register
from inventory.models import Hold
from inventory.queries import registers
from inventory.queries.hold_subject import subject_of
from inventory.rules.roles import Act
from inventory.services.holds import place_hold, release_hold


class HoldAsked(serializers.Serializer[Any]):
    """What is in doubt, and why; metres for a reel only, both or neither."""

    subject = HeldThing()
    reason = serializers.CharField(max_length=300)
    from_mm = LengthMm(allow_null=True, default=None)
    to_mm = LengthMm(allow_null=True, default=None)


class HoldsAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    is_released = serializers.BooleanField(
        required=False, allow_null=True, default=None, source="released_at__isnull"
    )

    def to_internal_value(self, data: Any) -> Any:  # noqa: ANN401 -- the framework's signature
        """Leave out what was not asked; a hold that is not released has no such time."""
        asked = super().to_internal_value(data)
        return {name: not value for name, value in asked.items() if value is not None}


class HoldAnswer(serializers.ModelSerializer[Hold]):
    """A hold, standing while `released_at` is null."""

    subject = serializers.SerializerMethodField()

    class Meta:
        model = Hold
        fields = [
            "code",
            "subject",
            "from_mm",
            "to_mm",
            "reason",
            "placed_at",
            "released_at",
            "release_reason",
        ]

    def get_subject(self, hold: Hold) -> str:
        """Write the code of what it is on."""
        return subject_of(hold).code


@extend_schema_view(list=extend_schema(parameters=[HoldsAsked]))
class HoldViewSet(Register[Hold]):
    """Things in doubt, and with each everything made from it."""

    queryset = registers.holds()
    serializer_class = HoldAnswer
    narrowed_by = HoldsAsked
    acts = {"create": Act.PLACE_HOLD, "release": Act.RELEASE_HOLD}

    @extend_schema(request=HoldAsked, responses={201: HoldAnswer})
    def create(self, request: Request) -> Response:
        """Put a thing on hold, and with it everything made from it."""
        return made(HoldAnswer(place_hold(**read(HoldAsked, request), **deed(request))))

    @extend_schema(request=ReasonAsked, responses=HoldAnswer)
    @action(detail=True, methods=["post"])
    def release(self, request: Request, code: str) -> Response:
        """Release a hold; it stays on record."""
        hold = self.get_object()
        released = release_hold(hold=hold, **read(ReasonAsked, request), **deed(request))
        return Response(HoldAnswer(released).data)
