"""Turns a refusal into an answer of the API, so that a client reads the sentence a person would.

What is refused is decided by rules and services. Faults of form keep the shape of the framework.
"""

from typing import Any

from rest_framework import status
from rest_framework.response import Response
from rest_framework.views import exception_handler

from inventory.rules.refusal import Refusal
from inventory.services.authority import NotAllowed
from inventory.services.trouble import trouble_of


def answer_refusal(exc: Exception, context: dict[str, Any]) -> Response | None:
    """Answer a refusal with its sentence and the input it belongs to; leave the rest as it is.

    403: the person's role does not include the act. 400: one input is at fault. 409: the record
    stands against it. 503: the storage or the database fails; Retry-After says when to come back.
    """
    trouble = trouble_of(exc)
    if trouble is not None:
        answer = Response({"problem": trouble.sentence, "field": ""}, status=503)
        answer["Retry-After"] = str(trouble.retry_after_s)
        return answer
    if isinstance(exc, Refusal):
        body = {"problem": exc.message, "field": exc.field}
        return Response(body, status=_status(exc))
    return exception_handler(exc, context)


def _status(refusal: Refusal) -> int:
    if isinstance(refusal, NotAllowed):
        return status.HTTP_403_FORBIDDEN
    return status.HTTP_400_BAD_REQUEST if refusal.field else status.HTTP_409_CONFLICT
