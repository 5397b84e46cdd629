"""Decides in which language a page is shown to someone on site: the one chosen, or the phone's.

A choice stands in the address and nowhere else; nothing is kept. Pages of the house are English.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from typing import Concatenate, Final, ParamSpec

from django.http import HttpRequest, HttpResponse
from django.utils import translation
from django.utils.cache import patch_vary_headers
from django.utils.translation.trans_real import parse_accept_lang_header

from inventory.rules.language import Language

P = ParamSpec("P")
View = Callable[Concatenate[HttpRequest, P], HttpResponse]

# The name of the choice in the address.
CHOICE: Final = "lang"


@dataclass(frozen=True, slots=True)
class LanguageLink:
    """A language to choose, by the name that its speakers look for."""

    language: Language
    is_shown: bool

    @property
    def query(self) -> str:
        """Give what chooses it in an address."""
        return f"?{CHOICE}={self.language.value}"


def language_of(request: HttpRequest) -> Language:
    """Give the language chosen in the address, else the first one that the phone asks for."""
    chosen = _known(request.GET.get(CHOICE, ""))
    if chosen is not None:
        return chosen
    asked = parse_accept_lang_header(request.headers.get("Accept-Language", ""))
    for tag, _ in asked:
        found = _known(tag)
        if found is not None:
            return found
    return Language.ENGLISH


def choice_in(request: HttpRequest) -> str:
    """Give the choice as it is handed on to the next page; empty where the phone decides."""
    chosen = _known(request.GET.get(CHOICE, ""))
    return "" if chosen is None else f"?{CHOICE}={chosen.value}"


def language_links(shown: Language) -> tuple[LanguageLink, ...]:
    """List every language, with the one that is shown marked."""
    return tuple(LanguageLink(one, one is shown) for one in Language)


def words_in(language: Language) -> translation.override:
    """Speak a language for a while; English as it is written in Britain."""
    return translation.override("en-gb" if language is Language.ENGLISH else language.value)


def spoken(view: View[P]) -> View[P]:
    """Answer in the language of the reader, and say that the answer hangs on it (Vary)."""

    @wraps(view)
    def told(request: HttpRequest, /, *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
        with words_in(language_of(request)):
            answer = view(request, *args, **kwargs)
        patch_vary_headers(answer, ["Accept-Language"])
        return answer

    return told


def _known(tag: str) -> Language | None:
    """Find a language by its tag, whatever country stands behind it: "de-AT" is German."""
    try:
        return Language(tag.lower().partition("-")[0])
    except ValueError:
        return None
