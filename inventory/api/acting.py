"""Decides how an endpoint calls a service: who acts and when, with what, and what comes back.

Who may act is decided by the service; an endpoint asks the same table beforehand, so that
whoever may not is told so before his input is looked at.
"""

from base64 import b64encode
from datetime import datetime
from typing import Any, TypedDict

from django.http import HttpResponse
from django.utils import timezone
from rest_framework import status
from rest_framework.exceptions import NotAuthenticated
from rest_framework.permissions import SAFE_METHODS, BasePermission
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer
from rest_framework.views import APIView

from inventory.models import Person, StoredFile
from inventory.queries.kept_files import read_file
from inventory.rules.roles import Act
from inventory.services.authority import require


class Deed(TypedDict):
    """Who acts, and when: what every service is told besides the facts."""

    by: Person
    at: datetime


class MayAct(BasePermission):
    """Everyone signed in may read; to act, the person's role must include the endpoint's act.

    `acts` of the view names the act of each of its actions that changes something. One without
    an act is closed to everybody.
    """

    def has_permission(self, request: Request, view: APIView) -> bool:
        """Tell whether to go on. Raises NotAllowed with the sentence of the refusal."""
        method = request.method or ""
        is_served = method.lower() in view.http_method_names and hasattr(view, method.lower())
        if method in SAFE_METHODS or not is_served:
            return True  # what the view has no method for is answered so (405)
        acts: dict[str, str] = getattr(view, "acts", {})
        act = acts.get(getattr(view, "action", None) or "")
        if act is None:
            return False
        self.require(by=person_of(request), act=act)
        return True

    def require(self, *, by: Person, act: str) -> None:
        """Refuse unless the person's role allows the act."""
        require(by=by, act=Act(act))


def person_of(request: Request) -> Person:
    """Return who is signed in."""
    if not isinstance(request.user, Person):
        raise NotAuthenticated
    return request.user


def deed(request: Request) -> Deed:
    """Return who acts now: the one place where the API reads the clock."""
    return {"by": person_of(request), "at": timezone.now()}


def read(asked: type[BaseSerializer[Any]], request: Request) -> dict[str, Any]:
    """Read the body. Raises ValidationError (400) where it cannot be read."""
    reader = asked(data=request.data)
    reader.is_valid(raise_exception=True)
    return dict(reader.validated_data)


def read_query(asked: type[BaseSerializer[Any]], request: Request) -> dict[str, Any]:
    """Read what stands behind the question mark. Raises ValidationError (400)."""
    reader = asked(data=request.query_params)
    reader.is_valid(raise_exception=True)
    return dict(reader.validated_data)


def made(serializer: BaseSerializer[Any]) -> Response:
    """Answer with something that was recorded just now (201)."""
    return Response(serializer.data, status=status.HTTP_201_CREATED)


def kept(stored: StoredFile) -> HttpResponse:
    """Answer with the bytes of a kept file, after its hash was checked."""
    answer = HttpResponse(read_file(stored), content_type=stored.media_type)
    answer["Content-Disposition"] = f'attachment; filename="{stored.sha256[:16]}"'
    answer["X-Content-Type-Options"] = "nosniff"
    answer["Content-Security-Policy"] = "sandbox; default-src 'none'"
    answer["Repr-Digest"] = f"sha-256=:{_base64(stored.sha256)}:"
    return answer


def _base64(sha256: str) -> str:
    return b64encode(bytes.fromhex(sha256)).decode()
