"""The template filter that keeps codes, dates and quantities whole; built into the template engine.

A line of text may break before and after "R-00003", "2026-11-25" and "84.6 kN", and never within.
"""

import re

from django import template
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

register = template.Library()

# A code: letters, then groups of at least two digits, the hyphens that join them; a day; a time of
# day with its zone, if it has one; the two halves of a rope's designation, diameter with
# construction and grade with finish and lay (EN 12385-2); a figure with its unit.
_WHOLE = re.compile(
    r"\b[A-Z]{1,3}(?:-[0-9]{2,})+(?:\.[0-9]+)?\b"
    r"|\b[0-9]{4}-[0-9]{2}-[0-9]{2}\b"
    r"|\b[0-9]{2}:[0-9]{2}(?: [A-Z]{3,5}\b)?"
    r"|\b[0-9][0-9.]* [0-9]+x[0-9]+[A-Z]*(?:-[A-Z]+)?\b"
    r"|\b[0-9]{4} [ABU] [sz]?[SZ]\b"
    r"|\b[0-9][0-9.,]*\s(?:kN|N|mm|m|kg|g|t|%)(?![\w/²])"
)


@register.filter
def unbroken(text: object) -> SafeString:
    """Write text, escaped, with everything that must stay in one line marked so."""
    if isinstance(text, SafeString):
        return text  # what may be wrapped in markup is for whoever made it
    said, parts, at = str(text), list[tuple[str]](), 0
    for match in _WHOLE.finditer(said):
        parts += [(said[at : match.start()],), (_kept(match[0]),)]
        at = match.end()
    return format_html_join("", "{}", [*parts, (said[at:],)])


@register.filter
def unbroken_cell(text: object) -> object:
    """Write the text of a narrow cell: kept whole where it is nothing but what stays whole.

    Words of a sentence fill their lines anyhow; a day or a rope alone would break at its hyphen.
    """
    said = str(text)
    return unbroken(text) if said and not _WHOLE.sub("", said).strip() else text


def _kept(text: str) -> SafeString:
    return format_html('<span class="whole">{}</span>', text)
