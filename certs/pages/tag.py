"""Decides how a scanned tag is answered in public: one small page, no sign-in, no names.

Wrong and unknown codes get one and the same answer. Nothing is kept by the browser or by search
engines, and no address is passed on. The page works without its script; with it, the phone keeps
the last answer for when the signal is gone (`tag_worker`).
"""

from typing import Final

from csp.constants import NONCE, SELF
from csp.decorators import csp_update
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.timezone import localdate
from django.views.decorators.http import require_safe

from certs.documents.certificate_pdf import site_copy_pdf
from certs.pages.handing_out import attached
from certs.pages.public_language import choice_in, spoken
from certs.pages.public_page import kept_nowhere, no_such_tag, show_on_site, wait_on_site
from certs.pages.saying import moment_told
from certs.pages.tag_shown import tag_shown
from certs.queries.papers import Paper
from certs.queries.tag_status import Standing, TagAnswer, tag_answer
from inventory.pages.rate import limited

_LONGEST_CODE: Final = 40
_COPY_KEPT_S: Final = 3600


# The decorator is typed for views that take no code.
@csp_update({"script-src": NONCE, "worker-src": SELF})  # type: ignore[arg-type]
@limited("tag", says=wait_on_site)
@require_safe
@spoken
def tag(request: HttpRequest, text: str) -> HttpResponse:
    """Whether it is good now, what it may carry, what to mind, its papers, whom to tell."""
    answer = _answer(text)
    if answer is None:
        return no_such_tag(request)
    now = timezone.now()
    return show_on_site(
        request,
        "certs/tag.html",
        tag=tag_shown(answer, today=localdate(now)),
        told_at=moment_told(now),
    )


@limited("tag", says=wait_on_site)
@require_safe
@spoken
def tag_typed(request: HttpRequest) -> HttpResponse:
    """A code typed by hand leads to its page."""
    text = request.GET.get("code", "").strip()
    if not text:
        return show_on_site(request, "certs/tag_ask.html")
    if "/" in text:
        return no_such_tag(request)
    to = redirect("certs:tag", text)
    to["Location"] += choice_in(request)
    return to


@limited("tag", says=wait_on_site)
@require_safe
@spoken
def site_copy(request: HttpRequest, text: str, number: str) -> HttpResponse:
    """The paper with the purchaser's name withheld, while it is in force and the item is good."""
    answer = _answer(text)
    if answer is None or answer.standing is not Standing.GOOD:
        return no_such_tag(request)
    in_force = (p for p in answer.papers if p.is_in_force and p.number == number)
    paper = next(in_force, None)
    if paper is None:
        return no_such_tag(request)
    return kept_nowhere(
        attached(_copy_of(paper), name=f"{number}-site-copy.pdf", media_type="application/pdf")
    )


def _answer(text: str) -> TagAnswer | None:
    return tag_answer(text) if len(text) <= _LONGEST_CODE else None


def _copy_of(paper: Paper) -> bytes:
    """Give the site copy; it is kept for a while, as rendering it takes long and anyone may ask."""
    key = f"site-copy-{paper.pdf_sha256}"
    kept: bytes | None = cache.get(key)
    if kept is not None:
        return kept
    copy = site_copy_pdf(paper.snapshot, pdf_sha256=paper.pdf_sha256)
    cache.set(key, copy, _COPY_KEPT_S)
    return copy
