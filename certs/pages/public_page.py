"""Decides how a page that anyone may read is sent: without a session, and kept by nobody.

Two phones that ask in one language get one and the same page.
"""

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string

from certs.pages.public_language import choice_in, language_links, language_of, spoken
from certs.queries.letterhead import Head, current_letterhead
from certs.rules.contact_lines import contact_lines
from inventory.rules.language import Language


def show_anyone(
    request: HttpRequest,
    template: str,
    *,
    status: int = 200,
    head: Head | None = None,
    **context: object,
) -> HttpResponse:
    """Render in English, without a session or a user: the page is the same for everyone.

    Args:
        head: who answers for the page; the letterhead that counts now, unless one is given.
    """
    nonce = str(getattr(request, "csp_nonce", ""))
    head = head or current_letterhead()
    page = render_to_string(
        template,
        {
            "nonce": nonce,
            "language": Language.ENGLISH,
            "languages": (),
            "issuer": head.name,
            "issuer_address": head.address,
            "contact": contact_lines(head.contact),
            **context,
        },
    )
    return kept_nowhere(HttpResponse(page, status=status))


def show_on_site(
    request: HttpRequest,
    template: str,
    *,
    status: int = 200,
    head: Head | None = None,
    **context: object,
) -> HttpResponse:
    """Render in the language that is spoken now, with the others to choose from.

    The view must be `spoken`.
    """
    language = language_of(request)
    return show_anyone(
        request,
        template,
        status=status,
        head=head,
        language=language,
        languages=language_links(language),
        choice=choice_in(request),
        **context,
    )


def no_such_tag(request: HttpRequest) -> HttpResponse:
    """Answer a wrong code and an unknown one alike."""
    return show_on_site(request, "certs/tag_unknown.html", status=404)


@spoken
def wait_on_site(request: HttpRequest, wait_s: int) -> HttpResponse:
    """Answer someone on site that more was asked than one person needs (429)."""
    # Whoever asks too often shall cost next to nothing: no look at the record.
    head = Head(name=settings.ISSUER_NAME, address=settings.ISSUER_ADDRESS)
    answer = show_on_site(request, "certs/tag_wait.html", status=429, head=head, wait_s=wait_s)
    answer["Retry-After"] = str(wait_s)
    return answer


def kept_nowhere(answer: HttpResponse) -> HttpResponse:
    """Tell browsers and search engines to keep nothing, and to pass the address on to nobody."""
    answer["X-Robots-Tag"] = "noindex, nofollow, noarchive"
    answer["Cache-Control"] = "no-store"
    answer["Referrer-Policy"] = "no-referrer"
    return answer
