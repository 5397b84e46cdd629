"""Says the words of a paper in its language, with the English that governs beneath them.

Template tags, built into the template engine (settings). The English text is the key of the
catalogues in `certs/words/paper`; figures, codes and derived texts are never translated. Which
languages there are is decided in `inventory.rules.paper_language`.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from typing import Any, Final

from django import template
from django.utils import timezone, translation
from django.utils.formats import date_format
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import pgettext

from certs.rules.field_codes import shown_code
from inventory.rules.language import Language
from inventory.rules.paper_language import paper_language

register = template.Library()

# Tells the words of papers from those of tags and of Django.
CONTEXT: Final = "paper"
_ENGLISH: Final = "en-gb"


@contextmanager
def speaking(wished: str) -> Iterator[str]:
    """Set what is rendered within in a paper's language; gives its tag (BCP 47) for the page.

    Args:
        wished: a value of `inventory.rules.language.Language`, or empty.
    """
    language = paper_language(wished)
    spoken = _ENGLISH if language is Language.ENGLISH else language.value
    with translation.override(spoken):
        yield "en-GB" if language is Language.ENGLISH else language.value


def in_words(text: str) -> str:
    """Give a text in the language spoken now; the text itself where that is English."""
    return pgettext(CONTEXT, text) if text and not _is_english() else text


@register.simple_tag
def said(text: str, code: str = "") -> SafeString:
    """Say a label: in the paper's language, its code of EN 10168, the English beneath."""
    told = in_words(text)
    mark = coded(code) if code else SafeString("")
    if told == text:
        return format_html("{}{}", text, mark)
    return format_html('{}{}<span class="also" lang="en-GB">{}</span>', told, mark, text)


@register.simple_tag
def coded(code: str) -> SafeString:
    """Put the code of EN 10168 beside what it stands for."""
    return format_html('<span class="fc">{}</span>', shown_code(code))


@register.simple_tag
def said_beside(text: str) -> SafeString:
    """Say a word within a line, the English after a stroke."""
    told = in_words(text)
    if told == text:
        return format_html("{}", text)
    return format_html('{} <span class="beside" lang="en-GB">/ {}</span>', told, text)


@register.filter
def worded(text: Any) -> str:  # noqa: ANN401 -- a template may hand in anything
    """Give the bare translation, where there is no room for two: running heads and the like."""
    return in_words(str(text))


@register.filter
def dated(value: datetime) -> str:
    """Write the day as the paper's language writes it; nothing in English, which has ISO 8601."""
    return "" if _is_english() else date_format(timezone.localtime(value), "DATE_FORMAT")


def _is_english() -> bool:
    return (translation.get_language() or _ENGLISH) == _ENGLISH
