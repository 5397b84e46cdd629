"""Gives a token to who has a name and a pass phrase, and the code of the second step if asked.

A token is as good as a sign-in, so whoever must pass a second step must pass it here too.
"""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.authtoken.models import Token
from rest_framework.authtoken.serializers import AuthTokenSerializer
from rest_framework.authtoken.views import ObtainAuthToken
from rest_framework.exceptions import Throttled, ValidationError
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.api.rate import Knocking
from inventory.models import Person
from inventory.queries.people import person_of_name
from inventory.rules.refusal import Refusal
from inventory.services import second_step
from inventory.services.rate import wait_s
from inventory.services.security_log import note


class TokenAsked(AuthTokenSerializer):
    """A user name, a pass phrase, and a code of the app where a second step is asked for."""

    code = serializers.CharField(required=False, allow_blank=True, max_length=60, write_only=True)


class TokenAnswer(serializers.Serializer[Any]):
    """The token, for the header `Authorization: Token …`."""

    token = serializers.CharField()


class TokenView(ObtainAuthToken):
    """POST a user name and a password, get a token for the header `Authorization: Token …`."""

    authentication_classes = ()
    throttle_classes = (Knocking,)
    serializer_class = TokenAsked

    @extend_schema(request=TokenAsked, responses=TokenAnswer)
    def post(self, request: Request) -> Response:
        """Give a token; whoever must pass a second step gives its `code` as well."""
        typed = _name_typed(request)
        wait = wait_s("login_name", typed.casefold(), at=timezone.now())
        if wait:
            raise Throttled(wait=wait)
        asked = self.get_serializer(data=request.data)
        if not asked.is_valid():
            note("sign_in_failed", person=person_of_name(typed), by="token")
            raise ValidationError(asked.errors)
        person = asked.validated_data["user"]
        _pass_second_step(person, str(asked.validated_data.get("code", "")))
        token, _ = Token.objects.get_or_create(user=person)
        note("token_given", person=person)
        return Response({"token": token.key})


def _name_typed(request: Request) -> str:
    typed = request.data.get("username", "") if isinstance(request.data, dict) else ""
    return typed.strip() if isinstance(typed, str) else ""


def _pass_second_step(person: Person, code: str) -> None:
    if not second_step.is_asked_of(person):
        return
    if not second_step.is_set_up(person):
        raise ValidationError(
            {"code": ["Sign in with a browser first and set up your second step."]}
        )
    if not code:
        raise ValidationError({"code": ["Give the code of your app, or a recovery code."]})
    try:
        second_step.verify(person, code=code, at=timezone.now())
    except Refusal as refusal:
        note("second_step_failed", person=person, by="token")
        raise ValidationError({"code": [refusal.message]}) from refusal
