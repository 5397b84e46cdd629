"""Decides how a page that anyone may read is sent: the same for everyone, kept by nobody."""

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string


def show_anyone(
    request: HttpRequest, template: str, *, status: int = 200, **context: object
) -> HttpResponse:
    """Render without a session or a user: the page is the same for everyone."""
    nonce = str(getattr(request, "csp_nonce", ""))
    page = render_to_string(
        template,
        {
            "nonce": nonce,
            "issuer": settings.ISSUER_NAME,
            "issuer_address": settings.ISSUER_ADDRESS,
            **context,
        },
    )
    return kept_nowhere(HttpResponse(page, status=status))


def kept_nowhere(answer: HttpResponse) -> HttpResponse:
    """Tell browsers and search engines to keep nothing, and to pass the address on to nobody."""
    answer["X-Robots-Tag"] = "noindex, nofollow, noarchive"
    answer["Cache-Control"] = "no-store"
    answer["Referrer-Policy"] = "no-referrer"
    return answer
