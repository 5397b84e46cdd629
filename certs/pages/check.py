"""Decides how anyone has a paper checked: no sign-in, no script, and nothing is kept.

A request changes nothing, so it needs no proof that the form was ours (CSRF) and sets no cookie.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from django.http import HttpRequest, HttpResponse
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods, require_safe

from certs.documents.handed_in_paper import MOST_BYTES, MOST_SENT
from certs.documents.verifier_file import NAME, verifier_text
from certs.pages.forms.check import CheckForm
from certs.pages.handing_out import attached
from certs.pages.public_page import kept_nowhere, show_anyone
from certs.queries.paper_identity import Identity
from certs.rules.paper_check import CheckVerdict, Standing
from certs.services.check_paper import CannotCheck, CheckedPaper, check_code, check_file
from inventory.pages.rate import limited
from inventory.rules.body_size import said_bytes

_UNKNOWN: Final = "The code leads to no paper on record. Type the code, not the number."


@dataclass(frozen=True, slots=True)
class _Words:
    """The first lines of the answer; `look` is the class that the style knows."""

    look: str
    word: str
    text: str


_WORDS: Final[Mapping[Standing, _Words]] = MappingProxyType(
    {
        Standing.GOOD: _Words(
            "good",
            "Genuine and in force",
            "Every check holds. It is the paper as issued; the rope itself nobody looked at.",
        ),
        Standing.NOT_IN_FORCE: _Words(
            "stop",
            "Genuine, but do not rely on it",
            "It is the paper as issued. Since then something was recorded that speaks against it.",
        ),
        Standing.NOT_GENUINE: _Words("stop", "Not valid", "Do not rely on this paper."),
        Standing.NOT_PROVED: _Words(
            "past",
            "Not proved",
            "Nothing was found against it, but not every check could be made. Read which.",
        ),
    }
)
_SITE_COPY: Final = _Words(
    "past",
    "A site copy",
    "It is ours, and says what the paper says; it proves nothing by itself. Scan the tag.",
)


@csrf_exempt
@limited("check", methods=frozenset({"POST"}))
@require_http_methods(["GET", "HEAD", "POST"])
def check(request: HttpRequest) -> HttpResponse:
    """Ask for a PDF or a code, and tell what was found out about it."""
    form = CheckForm()
    answer = None
    if request.method == "POST":
        form, answer = _asked(request)
    if answer is None:
        return show_anyone(request, "certs/check.html", form=form)
    is_copy = answer.identity is Identity.SITE_COPY and answer.standing is Standing.NOT_PROVED
    return show_anyone(
        request,
        "certs/checked.html",
        form=CheckForm(),
        answer=answer,
        words=_SITE_COPY if is_copy else _WORDS[answer.standing],
        failed=[c for c in answer.checks if c.verdict is CheckVerdict.FAILS],
    )


@limited("check")
@require_safe
def verifier(_request: HttpRequest) -> HttpResponse:
    """Hand out the verifier that needs nothing of ours."""
    return kept_nowhere(
        attached(verifier_text().encode(), name=NAME, media_type="text/x-python; charset=utf-8")
    )


def _asked(request: HttpRequest) -> tuple[CheckForm, CheckedPaper | None]:
    """Read what was sent and have it checked; a file that is too large is not even read."""
    if said_bytes(str(request.META.get("CONTENT_LENGTH") or "")) > MOST_SENT:
        form = CheckForm({})
        form.add_error("file", f"The file is larger than {MOST_BYTES // 1024**2} MB.")
        return form, None
    form = CheckForm(request.POST, request.FILES)
    if not form.is_valid():
        return form, None
    try:
        return form, _answer(form)
    except CannotCheck as refusal:
        form.refuse(refusal)
        return form, None


def _answer(form: CheckForm) -> CheckedPaper:
    sent = form.cleaned_data["file"]
    if sent:
        # One byte more than may be: enough to see that it is too large.
        return check_file(sent.read(MOST_BYTES + 1))
    answer = check_code(form.cleaned_data["code"])
    if answer is None:
        raise CannotCheck(_UNKNOWN, field="code")
    return answer
