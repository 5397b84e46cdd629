"""Refuses a body that is longer than its endpoint takes, before anything of it is read."""

from rest_framework.exceptions import APIException
from rest_framework.request import Request

from inventory.rules.body_size import said_bytes, too_large


class BodyTooLarge(APIException):
    """More was sent than the endpoint takes (413)."""

    status_code = 413


def refuse_longer(request: Request, *, than_bytes: int) -> None:
    """Refuse a body that says it is longer. Raises BodyTooLarge."""
    if said_bytes(str(request.META.get("CONTENT_LENGTH") or "")) > than_bytes:
        raise BodyTooLarge(too_large(than_bytes))
