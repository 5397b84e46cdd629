"""Plays what comes back from site: a report at a tag, and the letters of a recall."""

from io import BytesIO

from PIL import Image, ImageDraw

from certs.management.demo.stage import Stage
from certs.models import Tag
from certs.services.answer_recall import record_acknowledgement, record_sent
from certs.services.recall_notices import write_letters
from certs.services.report_from_site import report_from_site
from inventory.documents.photograph import take_photograph
from inventory.models import Hold

_PAPER, _WIRE, _DARK = (226, 222, 214), (120, 124, 128), (64, 60, 56)
_SIZE = (960, 640)


def report_from_a_site(stage: Stage, *, sling: str) -> None:
    """Have someone report broken wires of a sling, with a picture; nobody has looked into it."""
    tag = Tag.objects.filter(assembly=stage.assemblies[sling], revoked_at=None).order_by("id")[0]
    report_from_site(
        tag=tag,
        kind="damage",
        words="Seven broken wires close to the ferrule of the lower eye, all on one side. Seen"
        " when the sling was hung up after the shift. It is marked and locked away.",
        contact="Yard office, extension 14 (invented)",
        photos=[take_photograph(_picture())],
        at=stage.calendar.moment(),
    )


def recall(stage: Stage, hold: Hold) -> None:
    """Write the letters about a hold; one customer has answered, the others not yet."""
    qa = stage.people["qa"]
    letters = write_letters(
        hold=hold,
        words="Broken outer wires were seen on the reel that this rope was cut from, where a fork"
        " truck touched it.",
        by=qa,
        at=stage.calendar.moment(),
    )
    for letter in letters:
        record_sent(notice=letter, how="by e-mail and by post", by=qa, at=stage.calendar.moment())
    if len(letters) > 1:
        at = stage.calendar.moment()
        record_acknowledgement(
            notice=letters[0],
            who="Stores office (invented)",
            when=at,
            note="All found and locked away; nothing passed on.",
            by=qa,
            at=at,
        )


def _picture() -> bytes:
    """Draw a rope with wires standing off, in place of a photograph."""
    image = Image.new("RGB", _SIZE, _PAPER)
    draw = ImageDraw.Draw(image)
    width, height = _SIZE
    for offset in range(-height, width, 36):
        draw.line((offset, height * 2 // 3, offset + 150, height // 3), fill=_WIRE, width=22)
        draw.line((offset + 18, height * 2 // 3, offset + 168, height // 3), fill=_DARK, width=4)
    for place, lift in enumerate((70, 110, 60, 130, 90, 50, 100)):
        start = width // 3 + place * 38
        draw.line((start, height // 3 + 8, start + 46, height // 3 - lift), fill=_DARK, width=5)
    buffer = BytesIO()
    image.save(buffer, format="PNG")
    return buffer.getvalue()
