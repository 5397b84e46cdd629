"""Decides how a scanned tag is answered in public: one small page, no sign-in, no script, no names.

Wrong and unknown codes get one and the same answer. Nothing is kept by the browser or by search
engines, and no address is passed on.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_safe

from certs.documents.certificate_pdf import site_copy_pdf
from certs.pages.handing_out import attached
from certs.pages.public_page import kept_nowhere, show_anyone
from certs.queries.letterhead import logo_of
from certs.queries.papers import Paper
from certs.queries.tag_status import Standing, TagAnswer, tag_answer
from inventory.pages.rate import limited

_LONGEST_CODE: Final = 40
_COPY_KEPT_S: Final = 3600


@dataclass(frozen=True, slots=True)
class _Verdict:
    """The first lines of the answer; `look` is the class that the style knows."""

    look: str
    word: str
    text: str


_VERDICTS: Final[Mapping[Standing, _Verdict]] = MappingProxyType(
    {
        Standing.GOOD: _Verdict(
            "good",
            "Good on record",
            "Its certificate is in force, and nothing on record speaks against it today. The record"
            " cannot see its present condition: look it over before each use.",
        ),
        Standing.DO_NOT_USE: _Verdict("stop", "Do not use", "Take it out of use and ask us."),
        Standing.SUPERSEDED: _Verdict(
            "past",
            "Superseded",
            "This paper has been replaced and is no longer in force. Ask for the new one.",
        ),
        Standing.NO_PAPER: _Verdict(
            "past", "No certificate", "Do not rely on this item before you have asked us."
        ),
    }
)

_GOOD_BUT_REPORTED: Final = _Verdict(
    "good",
    "Good on record, but reported",
    "Its certificate is in force. The record cannot see its present condition.",
)


@limited("tag")
@require_safe
def tag(request: HttpRequest, text: str) -> HttpResponse:
    """What this is, whether it is good now, what it may carry, what to mind, whom to tell."""
    answer = _answer(text)
    if answer is None:
        return show_anyone(request, "certs/tag_unknown.html", status=404)
    return show_anyone(
        request,
        "certs/tag.html",
        answer=answer,
        verdict=_verdict(answer),
        is_good=answer.standing is Standing.GOOD,
    )


@limited("tag")
@require_safe
def tag_typed(request: HttpRequest) -> HttpResponse:
    """A code typed by hand leads to its page."""
    text = request.GET.get("code", "").strip()
    if not text:
        return show_anyone(request, "certs/tag_ask.html")
    if "/" in text:
        return show_anyone(request, "certs/tag_unknown.html", status=404)
    return redirect("certs:tag", text)


@limited("tag")
@require_safe
def site_copy(request: HttpRequest, text: str, number: str) -> HttpResponse:
    """The paper with the purchaser's name withheld, while it is in force and the item is good."""
    answer = _answer(text)
    if answer is None or answer.standing is not Standing.GOOD:
        return show_anyone(request, "certs/tag_unknown.html", status=404)
    in_force = (p for p in answer.papers if p.is_in_force and p.number == number)
    paper = next(in_force, None)
    if paper is None:
        return show_anyone(request, "certs/tag_unknown.html", status=404)
    return kept_nowhere(
        attached(_copy_of(paper), name=f"{number}-site-copy.pdf", media_type="application/pdf")
    )


def _verdict(answer: TagAnswer) -> _Verdict:
    if answer.standing is Standing.GOOD and answer.doubts:
        return _GOOD_BUT_REPORTED
    return _VERDICTS[answer.standing]


def _answer(text: str) -> TagAnswer | None:
    return tag_answer(text) if len(text) <= _LONGEST_CODE else None


def _copy_of(paper: Paper) -> bytes:
    """Give the site copy; it is kept for a while, as rendering it takes long and anyone may ask."""
    key = f"site-copy-{paper.pdf_sha256}"
    kept: bytes | None = cache.get(key)
    if kept is not None:
        return kept
    logo = logo_of(paper.snapshot["issuer"].get("logo_sha256", ""))
    copy = site_copy_pdf(paper.snapshot, pdf_sha256=paper.pdf_sha256, logo=logo)
    cache.set(key, copy, _COPY_KEPT_S)
    return copy
