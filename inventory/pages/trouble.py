"""Decides what is answered when an act fails on our side: what failed, if that is known.

It must come out when little else works: no user, no menu, no database. What is said is decided
in `inventory.services.trouble`.
"""

import sys

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.template.loader import render_to_string

from inventory.services.trouble import trouble_of

_UNKNOWN = (
    "Something went wrong on our side. Nothing was half done: every act is recorded whole or not"
    " at all."
)


def server_error(request: HttpRequest) -> HttpResponse:
    """503 and when to come back where storage or database fail, 500 else; JSON under /api/.

    Django calls it while the error that nobody caught is being handled.
    """
    trouble = trouble_of(sys.exc_info()[1])
    status = 500 if trouble is None else 503
    answer: HttpResponse
    if request.path.startswith("/api/"):
        words = _UNKNOWN if trouble is None else trouble.sentence
        answer = JsonResponse({"problem": words, "field": ""}, status=status)
    else:
        page = render_to_string(f"{status}.html", {"trouble": trouble})
        answer = HttpResponse(page, status=status)
    if trouble is not None:
        answer["Retry-After"] = str(trouble.retry_after_s)
    answer["Cache-Control"] = "no-store"
    return answer
