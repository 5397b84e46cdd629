"""Decides what is told when a form cannot be taken because it does not bear our mark (CSRF).

Someone at a tag has no sign-in to have changed: he is told in his own language what to do, and whom
to call. Anyone else is told as someone who is signed in.
"""

from django.http import HttpRequest, HttpResponse
from django.views.csrf import csrf_failure

from certs.pages.public_language import spoken
from certs.pages.public_page import show_on_site, wait_on_site
from inventory.pages.rate import limited


def form_refused(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Answer instead of the view, with 403; nothing was recorded."""
    if request.path_info.startswith("/t/"):
        return _not_sent(request)
    return csrf_failure(request, reason)


@limited("tag", says=wait_on_site)
@spoken
def _not_sent(request: HttpRequest) -> HttpResponse:
    address = request.path_info
    return show_on_site(request, "certs/report_not_sent.html", status=403, address=address)
