"""Decides what every request passes: who counts as signed in, and what every answer says.

Order in the settings: `SecondStep` after the middleware that knows the session's device.
"""

from collections.abc import Callable
from typing import Final

from django.conf import settings
from django.contrib.auth.models import AnonymousUser
from django.http import HttpRequest, HttpResponse
from django.utils.functional import SimpleLazyObject

from inventory.models import Person
from inventory.rules.roles import Role
from inventory.services.second_step import is_needed_by
from inventory.services.security_log import note

Answering = Callable[[HttpRequest], HttpResponse]

# Nothing here asks a browser for a camera, a place or a payment.
PERMISSIONS: Final = ", ".join(
    f"{feature}=()"
    for feature in (
        "accelerometer", "autoplay", "camera", "display-capture", "encrypted-media", "fullscreen",
        "geolocation", "gyroscope", "magnetometer", "microphone", "midi", "payment",
        "publickey-credentials-get", "screen-wake-lock", "usb", "xr-spatial-tracking",
    )
)  # fmt: skip
_NOTED: Final = {403: "refused", 429: "rate_limited"}


class SecondStep:
    """Takes for a stranger whose session never passed the second step that his role needs.

    Such a session is older than the setting or the role. Nobody is looked up until a view asks.
    """

    def __init__(self, get_response: Answering) -> None:
        """Take what answers."""
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Put the person who counts in place of the one of the session."""
        if settings.MFA_REQUIRED:
            user = request.user
            request.user = SimpleLazyObject(lambda: _counted(user))  # type: ignore[assignment]
        return self.get_response(request)


class Policies:
    """Says on every answer what it may be used for, and notes who was refused."""

    def __init__(self, get_response: Answering) -> None:
        """Take what answers."""
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer, with the headers that the framework has no setting for."""
        answer = self.get_response(request)
        answer.headers.setdefault("Permissions-Policy", PERMISSIONS)
        answer.headers.setdefault("Cross-Origin-Resource-Policy", "same-origin")
        # What is no file of the program may be gone or another's by the next time.
        answer.headers.setdefault("Cache-Control", "no-store")
        event = _NOTED.get(answer.status_code)
        if event:
            _note(event, request)
        return answer


def _counted(user: object) -> object:
    if not isinstance(user, Person) or not is_needed_by(Role(user.role)):
        return user
    return user if user.is_verified() else AnonymousUser()  # type: ignore[attr-defined] # the library adds it


def _note(event: str, request: HttpRequest) -> None:
    """Note it by the address as it is written in the table of addresses: no code is in that."""
    match = request.resolver_match
    # Who asks too often is not worth a question to the database.
    user = getattr(request, "user", None) if event == "refused" else None
    note(
        event,
        person=user if isinstance(user, Person) else None,
        method=str(request.method),
        route=match.route if match else "none",
    )
