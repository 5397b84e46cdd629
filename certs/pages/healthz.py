"""Decides what a monitor is told: whether the program answers and reaches its database."""

from django.db import DatabaseError, connection
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe


@require_safe
def healthz(_request: HttpRequest) -> HttpResponse:
    """200 when a query is answered, 503 when not."""
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
    except DatabaseError:
        return HttpResponse("no database", content_type="text/plain", status=503)
    return HttpResponse("ok", content_type="text/plain")
