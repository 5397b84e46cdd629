"""People who sign in, over the API: for the administrator alone, reading included.

A pass phrase goes in and never comes out; whoever it is for is told it in person.
"""

from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.permissions import SAFE_METHODS, IsAuthenticated
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from inventory.api.acting import MayAct, deed, made, person_of, read
from inventory.api.register import Register
from inventory.api.schema import A_PROBLEM
from inventory.models import Person
from inventory.queries.people import people_with_step
from inventory.rules.roles import Act, Role
from inventory.services import second_step
from inventory.services.accounts import (
    change_role,
    close_account,
    open_account,
    set_pass_phrase,
)
from inventory.services.people import register_person

_ROLES = [(role.value, role.words) for role in Role]


class Phrase(serializers.CharField):
    """A pass phrase as it was typed: at least 12 characters, blanks at its ends included."""

    def __init__(self, **options: Any) -> None:  # noqa: ANN401 -- the framework's signature
        """Take it in and never give it out."""
        super().__init__(max_length=200, trim_whitespace=False, write_only=True, **options)


class RoleField(serializers.ChoiceField):
    """A role, by its value."""

    def __init__(self, **options: Any) -> None:  # noqa: ANN401 -- the framework's signature
        """Offer every role."""
        super().__init__(choices=_ROLES, **options)

    def to_internal_value(self, data: Any) -> Role:  # noqa: ANN401 -- the framework's signature
        """Read a role."""
        return Role(super().to_internal_value(data))


class PersonAsked(serializers.Serializer[Any]):
    """A person to register. The user name cannot be changed: the journal rests on it."""

    username = serializers.CharField(max_length=150)
    full_name = serializers.CharField(max_length=250)
    role = RoleField()
    password = Phrase()


class RoleAsked(serializers.Serializer[Any]):
    """Another role."""

    role = RoleField()


class PhraseAsked(serializers.Serializer[Any]):
    """A new pass phrase."""

    password = Phrase()


class PeopleAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    role = serializers.ChoiceField(_ROLES, required=False)
    is_active = serializers.BooleanField(required=False, allow_null=True, default=None)

    def to_internal_value(self, data: Any) -> Any:  # noqa: ANN401 -- the framework's signature
        """Leave out what was not asked."""
        asked = super().to_internal_value(data)
        return {name: value for name, value in asked.items() if value is not None}


class PersonAnswer(serializers.ModelSerializer[Person]):
    """A person; `has_second_step` tells whether an app is set up."""

    full_name = serializers.CharField(source="get_full_name")
    has_second_step = serializers.BooleanField()

    class Meta:
        model = Person
        fields = [
            "username",
            "full_name",
            "role",
            "is_active",
            "has_second_step",
            "date_joined",
            "last_login",
        ]


class MayManagePeople(MayAct):
    """Whoever may not change accounts does not read them either."""

    def has_permission(self, request: Request, view: APIView) -> bool:
        """Tell whether to go on. Raises NotAllowed with the sentence of the refusal."""
        method = request.method or ""
        if method in SAFE_METHODS and hasattr(view, method.lower()):
            self.require(by=person_of(request), act=Act.MANAGE_PEOPLE)
        return super().has_permission(request, view)


@extend_schema_view(
    list=extend_schema(
        parameters=[PeopleAsked], responses={200: PersonAnswer(many=True), 403: A_PROBLEM}
    ),
    retrieve=extend_schema(responses={200: PersonAnswer, 403: A_PROBLEM}),
)
class PersonViewSet(Register[Person]):
    """People who sign in, each with one role."""

    queryset = people_with_step()
    permission_classes = (IsAuthenticated, MayManagePeople)
    serializer_class = PersonAnswer
    lookup_field = "username"
    lookup_value_regex = r"[\w.@+-]+"
    narrowed_by = PeopleAsked
    acts = dict.fromkeys(
        ("create", "role", "pass_phrase", "close", "open", "reset_second_step"), Act.MANAGE_PEOPLE
    )

    @extend_schema(request=PersonAsked, responses={201: PersonAnswer})
    def create(self, request: Request) -> Response:
        """Register a person with a role and a first pass phrase."""
        person = register_person(**read(PersonAsked, request), **deed(request))
        return made(PersonAnswer(people_with_step().get(pk=person.pk)))

    @extend_schema(request=RoleAsked, responses=PersonAnswer)
    @action(detail=True, methods=["post"])
    def role(self, request: Request, username: str) -> Response:
        """Give a person another role; all his sessions end."""
        person, asked = self.get_object(), read(RoleAsked, request)
        change_role(person=person, **asked, **deed(request))
        return self._shown()

    @extend_schema(request=PhraseAsked, responses=PersonAnswer)
    @action(detail=True, methods=["post"], url_path="pass-phrase")
    def pass_phrase(self, request: Request, username: str) -> Response:
        """Give a person a new pass phrase; all his sessions end."""
        person, asked = self.get_object(), read(PhraseAsked, request)
        set_pass_phrase(person=person, **asked, **deed(request))
        return self._shown()

    @extend_schema(request=None, responses=PersonAnswer)
    @action(detail=True, methods=["post"])
    def close(self, request: Request, username: str) -> Response:
        """Close a person's account: he signs in no more, what he did stays on record."""
        close_account(person=self.get_object(), **deed(request))
        return self._shown()

    @extend_schema(request=None, responses=PersonAnswer)
    @action(detail=True, methods=["post"])
    def open(self, request: Request, username: str) -> Response:
        """Open an account again that was closed."""
        open_account(person=self.get_object(), **deed(request))
        return self._shown()

    @extend_schema(request=None, responses=PersonAnswer)
    @action(detail=True, methods=["post"], url_path="reset-second-step")
    def reset_second_step(self, request: Request, username: str) -> Response:
        """Take the second step away from a person who lost app and codes; his sessions end."""
        second_step.reset(person=self.get_object(), **deed(request))
        return self._shown()

    def _shown(self) -> Response:
        return Response(PersonAnswer(self.get_object()).data)
