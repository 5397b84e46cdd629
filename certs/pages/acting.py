"""Decides how a page of claims lets only those in whose role includes the act.

Calling a service and showing its refusal is decided once, in `inventory.pages.acting`.
"""

from collections.abc import Callable
from functools import wraps
from typing import ParamSpec

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_http_methods

from certs.rules.roles import ALLOWED, ClaimAct, may
from inventory.pages.acting import SAFE, TAKEN, View, person_of
from inventory.pages.reading import as_they_read
from inventory.rules.roles import Role

P = ParamSpec("P")


def for_claim(act: ClaimAct, *, is_read_by_all: bool = False) -> Callable[[View[P]], View[P]]:
    """Let only those see the page whose role includes the act; others are told so (403).

    Args:
        is_read_by_all: every signed-in person may read it, only those of the act may send it.
    """

    def decorate(view: View[P]) -> View[P]:
        @wraps(view)
        def guarded(request: HttpRequest, /, *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
            is_reading = is_read_by_all and request.method in SAFE
            if not is_reading and not may_do(request, act):
                raise PermissionDenied
            return view(request, *args, **kwargs)

        guarded_view: View[P] = login_required(require_http_methods(TAKEN)(as_they_read(guarded)))
        return guarded_view

    return decorate


def may_do(request: HttpRequest, act: ClaimAct) -> bool:
    """Tell whether the reader's role includes the act."""
    return may(Role(person_of(request).role), act)


def claims_of(role: str) -> frozenset[str]:
    """Give the values of the acts on claims that a role includes; none for an unknown role."""
    return frozenset(act.value for act, roles in ALLOWED.items() if role in roles)
