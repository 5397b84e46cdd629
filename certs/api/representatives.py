"""The register of those who may validate an inspection document, over the API.

An entry has no code of its own; it is named by person, capacity and first day.
"""

import re
from datetime import date
from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_field
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.register import SignedForClaims
from certs.models import Representative
from certs.queries.claim_registers import representatives
from certs.rules.roles import ClaimAct
from certs.services.representatives import register_representative
from inventory.api.acting import deed, made, read
from inventory.queries.registers import people

_ENTRY = re.compile(r"([\w.@+-]{1,150}):([a-z]{1,16}):([0-9]{4}-[0-9]{2}-[0-9]{2})")


@extend_schema_field(
    {"type": "string", "description": "user name:capacity:first day, as the register gives it"}
)
class Entry(serializers.Field[Representative, str, str, Any]):
    """An entry of the register by its name."""

    default_error_messages = {"unknown": "There is no such entry in the register."}

    def to_internal_value(self, data: Any) -> Representative:  # noqa: ANN401 -- the framework's
        """Find the entry."""
        named = _ENTRY.fullmatch(data) if isinstance(data, str) else None
        first_day = _day(named[3]) if named else None
        if named is None or first_day is None:
            self.fail("unknown")
        found = representatives().filter(
            person__username=named[1], capacity=named[2], valid_from_date=first_day
        )
        entry = found.first()
        if entry is None:
            self.fail("unknown")
        return entry

    def to_representation(self, value: Representative) -> str:
        """Write its name."""
        return f"{value.person.username}:{value.capacity}:{value.valid_from_date}"


class RepresentativeAsked(serializers.Serializer[Any]):
    """A person to put on the register, with whom he represents and from which day to which."""

    person = serializers.SlugRelatedField(slug_field="username", queryset=people())
    capacity = serializers.ChoiceField(Representative.Capacity.choices)
    organisation = serializers.CharField(max_length=120)
    is_independent = serializers.BooleanField()
    valid_from_date = serializers.DateField()
    valid_to_date = serializers.DateField(allow_null=True, default=None)


class RepresentativeAnswer(serializers.ModelSerializer[Representative]):
    """An entry of the register."""

    name = Entry(source="*", read_only=True)
    person = serializers.CharField(source="person.username")

    class Meta:
        model = Representative
        fields = [
            "name",
            "person",
            "capacity",
            "organisation",
            "is_independent",
            "valid_from_date",
            "valid_to_date",
        ]


class RepresentativeViewSet(SignedForClaims[Representative]):
    """Who may validate, in which capacity, and until when."""

    serializer_class = RepresentativeAnswer
    acts = {"create": ClaimAct.REGISTER_REPRESENTATIVE}

    @extend_schema(responses=RepresentativeAnswer(many=True))
    def list(self, request: Request) -> Response:
        """List the register."""
        return self.page_of(representatives(), RepresentativeAnswer)

    @extend_schema(request=RepresentativeAsked, responses={201: RepresentativeAnswer})
    def create(self, request: Request) -> Response:
        """Put a person on the register."""
        entry = register_representative(**read(RepresentativeAsked, request), **deed(request))
        return made(RepresentativeAnswer(entry))


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None
