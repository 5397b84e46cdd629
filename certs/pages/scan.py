"""Decides how a code is read in the workshop: by camera, by a photograph, by typing; and led on.

The camera is allowed on this page and on no other. What a code means, and where it leads, is
decided by the search box, or by the bench that asked for it.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final
from urllib.parse import urlencode

from csp.constants import SELF, WASM_UNSAFE_EVAL
from csp.decorators import csp_update
from django import forms
from django.conf import settings
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.urls import reverse

from certs.pages.forms.find_photo import FindByPhotoForm
from certs.pages.rendering import show
from certs.rules.scanned import strange_house
from inventory.pages.acting import signed_in_to_act, typed
from inventory.pages.forms.asking import Ask
from inventory.pages.gate import PERMISSIONS

LONGEST: Final = 500
# Who asked for the code: the address that takes it, and the name under which it does.
_ASKED_BY: Final[Mapping[str, tuple[str, str]]] = MappingProxyType(
    {
        "": ("certs:find", "q"),
        "cutting": ("certs:cutting_bench", "reel"),
        "labels": ("certs:labels", "things"),
    }
)


class CodeForm(Ask):
    """A code as it is read or typed."""

    code = forms.CharField(
        label="Code",
        max_length=LONGEST,
        widget=forms.TextInput(
            {"autocomplete": "off", "autocapitalize": "characters", "spellcheck": "false"}
        ),
        help_text="What stands beside the QR, such as R-00012 or a tag’s four groups. A hand"
        " scanner types it by itself.",
    )


@csp_update({"script-src": [WASM_UNSAFE_EVAL], "connect-src": [SELF]})
@signed_in_to_act
def scan(request: HttpRequest) -> HttpResponse:
    """Read a code, and go where it leads."""
    asked_by = request.GET.get("for", "")
    asked_by = asked_by if asked_by in _ASKED_BY else ""
    photo = FindByPhotoForm(*typed(request))
    is_typed = request.method != "POST" and "code" in request.GET
    form = CodeForm(request.GET if is_typed else None)
    if request.method == "POST" and photo.is_valid():
        answer = _led_on(request, photo, photo.read("photograph"), asked_by)
    elif form.is_bound and form.is_valid():
        answer = _led_on(request, form, form.read("code"), asked_by)
    else:
        answer = None
    if answer is None:
        answer = show(
            request, "certs/scan.html", area="scan", form=form, photo=photo, asked_by=asked_by
        )
        answer["Permissions-Policy"] = PERMISSIONS.replace("camera=()", "camera=(self)")
    return answer


def _led_on(request: HttpRequest, form: Ask, text: str, asked_by: str) -> HttpResponse | None:
    """Go where the code belongs; None if it is another house's, which the form then says."""
    strange = strange_to(request, text)
    if strange:
        form.add_error(next(iter(form.fields)), strange)
        return None
    name, field = _ASKED_BY[asked_by]
    return HttpResponseRedirect(f"{reverse(name)}?{urlencode({field: text})}")


def strange_to(request: HttpRequest, text: str) -> str:
    """Say that a code leads to another house, as a sentence; empty if it does not."""
    here = f"{request.scheme}://{request.get_host()}"
    strange = strange_house(text, origins=(settings.PUBLIC_ORIGIN, here))
    return _strange_words(strange) if strange else ""


def _strange_words(strange: str) -> str:
    shown = strange if len(strange) <= 60 else f"{strange[:60]}…"  # noqa: PLR2004 -- one line
    return (
        f"This code leads to “{shown}”, which is not this house. Do not follow it. If it stands on"
        " goods of ours, take them aside and tell the QA officer."
    )
