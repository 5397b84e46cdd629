"""Decides how a drawing is written down: numbers, escaping, links, how wide a text is taken to be.

What is drawn, and where, is left to each drawing. The output is plain text and depends on the
arguments alone, so that the same record gives the same bytes in a browser and on paper.
"""

import base64
import html
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

INK = "#23282d"
SOFT = "#55606a"
RULE = "#8a939b"
PAPER = "#ffffff"
ACCENT = "#1d4f91"
TINT = "#dce7f5"
WARM = "#a63a00"
WARM_TINT = "#fde6d8"

ELLIPSIS = "…"

# Said on the drawing itself: the PDF maker gives an inline drawing no font of the page around it.
FAMILY = "Ropewalk Sans,sans-serif"

# Characters that XML 1.0 section 2.2 does not allow, not even escaped.
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NARROW = frozenset("iIjlf.,;:'|!()[] ")
_WIDE = frozenset("mwMW@%—…")
_OWN_LINK = ("/", "#", "?", "https://")


class Drawing(str):
    """A finished SVG document whose texts are already escaped, so a template may print it as is."""

    __slots__ = ()

    def __html__(self) -> str:
        """Return the drawing itself: the sign by which template engines know escaped markup."""
        return str(self)


@dataclass(frozen=True, slots=True)
class Spoken:
    """What a drawing says to someone who cannot see it; `prefix` keeps ids unique on a page."""

    prefix: str
    title: str
    description: str


def image_source(markup: str) -> str:
    """Return a drawing as the `src` of an image.

    For paper: measured here, the PDF maker draws it two to four times as fast as an inline drawing.
    The image needs the description as its `alt`.
    """
    return f"data:image/svg+xml;base64,{base64.b64encode(markup.encode()).decode()}"


def number(value: float) -> str:
    """Write a coordinate with at most two decimals and no trailing zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def escape(text: str) -> str:
    """Escape text for element content or a quoted attribute; what XML forbids becomes U+FFFD."""
    return html.escape(_NOT_XML.sub("\ufffd", text), quote=True)


def element(name: str, attributes: Mapping[str, str | float], *children: str) -> str:
    """Write one element; attribute values are escaped, children are taken as ready markup."""
    written = "".join(
        f' {key}="{escape(value) if isinstance(value, str) else number(value)}"'
        for key, value in attributes.items()
    )
    inside = "".join(children)
    return f"<{name}{written}>{inside}</{name}>" if inside else f"<{name}{written}/>"


def text(content: str, attributes: Mapping[str, str | float]) -> str:
    """Write a text element in ink, unless the attributes say otherwise."""
    return element("text", {"class": "draw-ink", "fill": INK, **attributes}, escape(content))


def linked(
    markup: str, *, href: str, title: str = "", marks: Mapping[str, str | float] | None = None
) -> str:
    """Wrap markup in a group with a spoken title, and in a link if there is somewhere to go.

    Args:
        marks: further attributes of a link, such as what a script is to know of it.

    Raises:
        ValueError: the link is neither a path of this site nor https.

    """
    hint = element("title", {}, escape(title)) if title else ""
    if not href:
        return element("g", {}, hint, markup)
    if not href.startswith(_OWN_LINK) or href.startswith("//"):
        message = f"a drawing links to paths of this site or to https, not to {href!r}"
        raise ValueError(message)
    return element("a", {"href": href, "class": "draw-link", **(marks or {})}, hint, markup)


def text_width(content: str, *, size: float) -> float:
    """Estimate the width of a line in user units, for any plain sans.

    Common practice, no source: a third of an em for narrow letters, nine tenths for wide ones,
    0.68 for capitals, otherwise 0.56. Meant to err on the wide side: labels are spaced by it,
    nothing is measured by it.
    """
    return size * sum(map(_ems, content))


def _ems(letter: str) -> float:
    if letter in _NARROW:
        return 0.34
    if letter in _WIDE:
        return 0.9
    return 0.68 if letter.isupper() else 0.56


def shorten(content: str, *, size: float, width: float) -> str:
    """Cut a line to an estimated width in user units; an ellipsis stands for what is left out."""
    if text_width(content, size=size) <= width:
        return content
    kept = content
    while kept and text_width(kept + ELLIPSIS, size=size) > width:
        kept = kept[:-1]
    return kept.rstrip() + ELLIPSIS


def drawing(*, width: float, height: float, spoken: Spoken, parts: Iterable[str]) -> Drawing:
    """Wrap the parts into a document that scales with its column and speaks its title.

    A picture with links in it is a group and not an image: the children of an image are silent.
    """
    body = "\n".join(parts)
    title_id, desc_id = f"{spoken.prefix}-title", f"{spoken.prefix}-desc"
    frame: dict[str, str | float] = {
        "xmlns": "http://www.w3.org/2000/svg",
        "class": "drawing",
        "viewBox": f"0 0 {number(width)} {number(height)}",
        "width": width,
        "height": height,
        "role": "group" if "<a " in body else "img",
        "aria-labelledby": title_id,
        "aria-describedby": desc_id,
        "font-family": FAMILY,
        "font-size": 12,
    }
    head = [
        element("title", {"id": title_id}, escape(spoken.title)),
        element("desc", {"id": desc_id}, escape(spoken.description)),
    ]
    return Drawing(element("svg", frame, "\n".join([*head, body, ""])))


def drawn_width(drawn: Drawing) -> float:
    """Return the width in user units that a finished drawing was made for."""
    box = drawn.partition('viewBox="')[2].partition('"')[0]
    return float(box.split()[2])
