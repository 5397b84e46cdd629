"""Prints the invented inspection documents of mills, as they would arrive: a PDF or a picture."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from io import BytesIO
from textwrap import wrap

from django.template.loader import render_to_string
from PIL import Image, ImageDraw, ImageFont

from certs.documents.paper import STATIC, print_paper
from inventory.models import Heat, Party

NOTICE = "Invented for a demonstration. No such mill, rope or test exists."
PAGE_PX = (1240, 1754)  # A4 at 150 dots to the inch
MARGIN_PX, LINE_PX, TEXT_PX, LINE_CHARACTERS = 110, 40, 26, 78


@dataclass(frozen=True, slots=True)
class GoodsLine:
    """One item of a document: its number, what it is, how much, and the heats it names."""

    number: str
    what: str
    quantity: str
    heats: str


@dataclass(frozen=True, slots=True)
class MillPaper:
    """All that stands on an inspection document."""

    maker: Party
    number: str
    kind: str
    issued: str
    validated_by: str
    goods: Sequence[GoodsLine]
    heats: Sequence[Heat]

    @property
    def elements(self) -> list[str]:
        """The symbols that any of the heats has a figure for, in the order first met."""
        return list(dict.fromkeys(symbol for heat in self.heats for symbol in heat.analysis))

    @property
    def analyses(self) -> list[tuple[Heat, list[str]]]:
        """Each heat with its figures in the order of `elements`."""
        return [
            (heat, [heat.analysis.get(symbol, "") for symbol in self.elements])
            for heat in self.heats
        ]


def as_pdf(paper: MillPaper) -> bytes:
    """Print the document as a PDF."""
    html = render_to_string("certs/demo/mill_document.html", {"paper": paper, "notice": NOTICE})
    return print_paper(
        html,
        identifier=hashlib.sha256(f"{paper.maker.code} {paper.number}".encode()).digest()[:16],
        made_at=datetime.fromisoformat(paper.issued).replace(tzinfo=UTC),
    )


def as_picture(paper: MillPaper) -> bytes:
    """Print the document as a PNG, as if it had been put on a scanner."""
    page = Image.new("L", PAGE_PX, 246)
    pen = ImageDraw.Draw(page)
    font = ImageFont.truetype(str(STATIC / "fonts" / "RopewalkSans-Regular.ttf"), TEXT_PX)
    y = MARGIN_PX
    for line in _lines(paper):
        for part in wrap(line, LINE_CHARACTERS) or [""]:
            pen.text((MARGIN_PX, y), part, font=font, fill=30)
            y += LINE_PX
    buffer = BytesIO()
    page.save(buffer, format="PNG", dpi=(150, 150))
    return buffer.getvalue()


def _lines(paper: MillPaper) -> list[str]:
    return [
        NOTICE,
        "",
        paper.maker.name,
        f"Inspection document {paper.kind} (EN 10204)   No. {paper.number}   {paper.issued}",
        "",
        *(f"{one.number}   {one.what}   {one.quantity}   heat {one.heats}" for one in paper.goods),
        "",
        *(
            f"Heat {heat.number}, {heat.steel_name}: "
            + "   ".join(f"{symbol} {figure}" for symbol, figure in heat.analysis.items())
            for heat in paper.heats
        ),
        "",
        f"Validated by: {paper.validated_by or 'not validated'}",
    ]
