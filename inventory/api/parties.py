"""Parties over the API: mills, makers of fittings, customers."""

from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.api.acting import deed, made, read
from inventory.api.register import Register
from inventory.models import Party
from inventory.queries import registers
from inventory.rules.paper_language import paper_choices
from inventory.rules.roles import Act
from inventory.services.parties import change_party_language, register_party


class PartyAsked(serializers.Serializer[Any]):
    """A firm to register."""

    kind = serializers.ChoiceField(Party.Kind.choices)
    name = serializers.CharField(max_length=120)
    address = serializers.CharField(max_length=400, required=False, allow_blank=True)
    language = serializers.ChoiceField(paper_choices(), required=False)


class PartyLanguageAsked(serializers.Serializer[Any]):
    """In which language papers and letters are written to a customer."""

    language = serializers.ChoiceField(paper_choices())


class PartiesAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    kind = serializers.ChoiceField(Party.Kind.choices, required=False)


class PartyAnswer(serializers.ModelSerializer[Party]):
    """A firm on record."""

    language = serializers.CharField()

    class Meta:
        model = Party
        fields = ["code", "kind", "name", "address", "language", "registered_at"]


@extend_schema_view(list=extend_schema(parameters=[PartiesAsked]))
class PartyViewSet(Register[Party]):
    """Mills, makers of fittings and customers."""

    queryset = registers.parties()
    serializer_class = PartyAnswer
    narrowed_by = PartiesAsked
    acts = {"create": Act.REGISTER_PARTY, "language": Act.CHANGE_PARTY}

    @extend_schema(request=PartyAsked, responses={201: PartyAnswer})
    def create(self, request: Request) -> Response:
        """Register a firm."""
        party = register_party(**read(PartyAsked, request), **deed(request))
        return made(PartyAnswer(party))

    @extend_schema(request=PartyLanguageAsked, responses=PartyAnswer)
    @action(detail=True, methods=["post"])
    def language(self, request: Request, code: str) -> Response:
        """Choose the language of papers and letters from now on."""
        asked = read(PartyLanguageAsked, request)
        party = change_party_language(party=self.get_object(), **asked, **deed(request))
        return Response(PartyAnswer(party).data)
