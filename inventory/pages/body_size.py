"""Decides how much of a request is read at all: what says that it is longer is not looked into."""

from collections.abc import Callable
from typing import Final

from django.conf import settings
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render

from inventory.rules.body_size import said_bytes, too_large

API: Final = "/api/"
TOO_LARGE: Final = 413


class BodySize:
    """Refuses what is larger than anything that is asked for, before it is read."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        """Take what answers."""
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer, or say how much may be sent."""
        most_bytes = settings.MOST_BODY_BYTES
        if said_bytes(str(request.META.get("CONTENT_LENGTH") or "")) <= most_bytes:
            return self.get_response(request)
        if request.path.startswith(API):
            return JsonResponse({"detail": too_large(most_bytes)}, status=TOO_LARGE)
        return render(request, "413.html", {"most_mb": most_bytes // 1024**2}, status=TOO_LARGE)
