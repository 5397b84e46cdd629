"""Decides how a sentence of the record is written on a page in the language that is spoken now.

Codes, figures and units are set apart, so that writing from the right leaves them as they are;
what a person typed, or a paper froze, stays English and is marked so. It translates nothing
itself: the words are those of `certs/words/tag`.
"""

from datetime import date, datetime
from typing import Final

from django.utils import timezone
from django.utils.formats import date_format
from django.utils.html import escape, format_html
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language, gettext

from certs.rules.said import Said, Typed

_ENGLISH: Final = '<span lang="en" dir="ltr">{}</span>'


def told(text: str | date) -> SafeString:
    """Write a sentence, or what stands in one, as HTML."""
    if isinstance(text, date):
        return _apart(day_told(text))
    if isinstance(text, Said):
        parts = {name: told(part) for name, part in text.given.items()}
        # The words are ours or our translators'; what is given was made safe one by one.
        return mark_safe(escape(gettext(text.words)).format(**parts))  # noqa: S308
    if isinstance(text, Typed) and not _is_english():
        return format_html(_ENGLISH, text)
    return _apart(text)


def translated(texts: tuple[str, ...]) -> tuple[str, ...]:
    """Say fixed texts, which have no places."""
    return tuple(gettext(text) for text in texts)


def day_told(day: date) -> str:
    """Write a day with the name of its month: no country reads it otherwise."""
    return date_format(day, "DATE_FORMAT")


def moment_told(moment: datetime) -> SafeString:
    """Write an instant with its zone."""
    local = timezone.localtime(moment)
    return format_html("{} {}", told(local.date()), _apart(f"{local:%H:%M %Z}"))


def _is_english() -> bool:
    return (get_language() or "en").startswith("en")


def _apart(text: str) -> SafeString:
    """Set a figure or a code apart: it reads the same way everywhere, and stays in one piece."""
    return format_html("<bdi>{}</bdi>", text)
