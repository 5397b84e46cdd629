"""Turns one HTML page into a PDF that lasts: PDF/A-3u, tagged, typeface embedded, bytes fixed.

The same HTML, identifier and attachment give the same bytes on every run and every machine: the
typeface is bundled, and no date is read from a clock.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path

from weasyprint import CSS, HTML, Attachment
from weasyprint.text.fonts import FontConfiguration

STATIC = Path(__file__).resolve().parent.parent / "static" / "certs"


@dataclass(frozen=True, slots=True)
class Enclosure:
    """A file that travels inside the PDF, as the data behind it."""

    name: str
    content: bytes
    description: str


def print_paper(
    html: str, *, identifier: bytes, made_at: datetime, enclosures: Sequence[Enclosure] = ()
) -> bytes:
    """Render a page to PDF/A-3u bytes.

    Args:
        html: a whole document; its styles come from `css/paper.css`.
        identifier: names the document inside the PDF; fixes its bytes.
        made_at: date of the enclosures, as no clock is read.
        enclosures: no two alike; each is marked as data of the page (ISO 19005-3, AFRelationship).
    """
    fonts, sheet = _typeface()
    attachments = [
        Attachment(
            string=enclosure.content,
            name=enclosure.name,
            description=enclosure.description,
            created=made_at,
            modified=made_at,
            relationship="Data",
        )
        for enclosure in enclosures
    ]
    document = HTML(string=html, base_url=str(STATIC)).render(
        stylesheets=[sheet], font_config=fonts
    )
    pdf: bytes = document.write_pdf(
        pdf_variant="pdf/a-3u",
        pdf_tags=True,
        pdf_identifier=as_written(identifier),
        attachments=attachments,
    )
    return pdf


def as_written(identifier: bytes) -> bytes:
    """Spell an identifier in hexadecimal digits, as it stands in the PDF.

    A raw carriage return in a PDF's string is read as a line feed (ISO 32000-1, 7.3.4.2), and the
    writer does not escape it: one random identifier in sixteen would not be read as it was given.
    """
    return identifier.hex().encode("ascii")


@cache
def _typeface() -> tuple[FontConfiguration, CSS]:
    """Parse style sheet and fonts once for the life of the process: they take half the time."""
    fonts = FontConfiguration()
    return fonts, CSS(filename=str(STATIC / "css" / "paper.css"), font_config=fonts)
