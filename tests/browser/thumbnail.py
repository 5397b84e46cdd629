"""Makes pictures small enough for a README."""

import io
import subprocess
from pathlib import Path

from PIL import Image

WIDTH = 960
HEAVIEST = 150_000


def write_small(png: bytes, to: Path) -> None:
    """Write a picture no wider than the README shows it, with as many colours as its weight allows.

    Raises ValueError if it stays too heavy.
    """
    picture = Image.open(io.BytesIO(png)).convert("RGB")
    picture.thumbnail((WIDTH, picture.height), Image.Resampling.LANCZOS)
    for colours in (256, 128, 64, 32, 16):
        buffer = io.BytesIO()
        few = picture.quantize(colours, dither=Image.Dither.NONE)
        few.save(buffer, "PNG", optimize=True)
        if buffer.tell() <= HEAVIEST:
            to.parent.mkdir(parents=True, exist_ok=True)
            to.write_bytes(buffer.getvalue())
            return
    raise ValueError(f"{to.name} is heavier than {HEAVIEST} bytes")


def page_of_pdf(pdf: bytes, to: Path) -> None:
    """Write the first page of a PDF."""
    command = ["pdftoppm", "-r", "110", "-f", "1", "-l", "1", "-png"]
    made = subprocess.run(command, input=pdf, check=True, capture_output=True)
    write_small(made.stdout, to)
