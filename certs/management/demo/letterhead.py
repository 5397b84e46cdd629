"""How papers of the demonstration look: an invented head with a logo drawn here, a language."""

from io import BytesIO
from math import cos, pi, sin

from PIL import Image, ImageDraw

from certs.management.demo.stage import Stage
from certs.services.letterhead import HeadAsked, set_letterhead
from inventory.rules.language import Language
from inventory.services.parties import change_party_language

_SIDE = 480
_INK = (29, 79, 145)


def set_the_letterhead(stage: Stage) -> None:
    """Set the head of papers, with an accreditation that says itself that it is invented."""
    head = HeadAsked(
        name="Demonstration stockist (invented)",
        address="3 Capstan Row\nNowhere",
        contact="Telephone 00 000 0000\nropes@stockist.example",
        registration="Register of Nowhere, no. 0000",
        accreditation="Invented testing laboratory 0000: tensile force 2 kN to 600 kN",
        logo_sent=_drawn(),
    )
    set_letterhead(head=head, by=stage.people["admin"], at=stage.calendar.moment())


def write_in_german(stage: Stage, customer: str) -> None:
    """Have the papers of a customer written in German, with the English beneath."""
    stage.parties[customer] = change_party_language(
        party=stage.parties[customer],
        language=Language.GERMAN,
        by=stage.people["admin"],
        at=stage.calendar.moment(),
    )


def _drawn() -> bytes:
    """Draw a rope cut across: six strands round a core."""
    page = Image.new("RGB", (_SIDE, _SIDE), "white")
    pen = ImageDraw.Draw(page)
    centre, strand = _SIDE / 2, _SIDE / 6
    turns = [n * pi / 3 for n in range(6)]
    around = [(centre + 2 * strand * cos(a), centre + 2 * strand * sin(a)) for a in turns]
    places = [(centre, centre), *around]
    for x, y in places:
        box = (x - strand + 5, y - strand + 5, x + strand - 5, y + strand - 5)
        pen.ellipse(box, outline=_INK, width=16, fill=_INK if (x, y) == places[0] else None)
    written = BytesIO()
    page.save(written, format="PNG")
    return written.getvalue()
