"""Decides what a page answers to who asks too often: to wait, and for how long (429).

How much is allowed stands in the settings; counting is done by `inventory.services.rate`.
"""

from collections.abc import Callable
from functools import wraps
from typing import ParamSpec

from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.utils import timezone

from inventory.pages.acting import View
from inventory.services.rate import client_address, wait_s

P = ParamSpec("P")


def limited(
    name: str,
    *,
    methods: frozenset[str] | None = None,
    says: Callable[[HttpRequest, int], HttpResponse] | None = None,
) -> Callable[[View[P]], View[P]]:
    """Limit how often one address may ask for this page, signed in or not.

    Put it outermost, above `require_safe` and the like: then a refused request costs least.

    Args:
        name: the limit, as `settings.RATE_LIMITS` names it.
        methods: only requests of these methods count; all of them unless some are named.
        says: the answer, made of the request and the seconds to wait, where it is a page's own.
    """

    def decorate(view: View[P]) -> View[P]:
        @wraps(view)
        def counted(request: HttpRequest, /, *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
            if methods is None or request.method in methods:
                wait = wait_s(name, client_address(request.META), at=timezone.now())
                if wait:
                    return too_many(wait) if says is None else says(request, wait)
            return view(request, *args, **kwargs)

        return counted

    return decorate


def too_many(wait: int) -> HttpResponse:
    """Answer that it is enough for now; `wait` in seconds goes into the header Retry-After."""
    page = render_to_string("429.html", {"wait_s": wait})
    answer = HttpResponse(page, status=429)
    answer["Retry-After"] = str(wait)
    answer["Cache-Control"] = "no-store"
    return answer
