"""Decides what code a photograph shows: a QR of ours or anybody's, as its plain text.

What the text means, and where it leads, is decided elsewhere; nothing of the picture is kept.
"""

from typing import Final

import zxingcpp
from PIL import Image, ImageFilter, ImageOps

from inventory.documents.photograph import upright_picture

# Longest sides at which the picture is looked at, in pixels. A shaken or soft picture is often
# read once it is smaller, as its edges are steeper then; a small code in a large one only as sent.
_SIDES: Final = (1600, 4096, 800, 400)
# A QR with error correction at its most holds far less; more is no code of a label.
LONGEST_TEXT: Final = 500
_SOUGHT: Final = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)


def read_code_from_photo(sent: bytes) -> str | None:
    """Return the text of the QR in a JPEG or PNG file; None where none can be read.

    The largest code is meant where a picture shows several, as it was held nearest.

    Raises:
        UnfitFile: empty, too large, of another type, damaged, or of too many pixels.
    """
    grey = upright_picture(sent).convert("L")
    seen: set[tuple[int, int]] = set()
    for side in _SIDES:
        smaller = grey.copy()
        smaller.thumbnail((side, side))
        if smaller.size in seen:
            continue
        seen.add(smaller.size)
        text = _read(smaller) or _read(_made_clearer(smaller))
        if text is not None:
            return text
    return None


def _read(picture: Image.Image) -> str | None:
    found = [
        code
        for code in zxingcpp.read_barcodes(picture, formats=_SOUGHT)
        if 0 < len(code.text) <= LONGEST_TEXT
    ]
    return max(found, key=_area).text if found else None


def _made_clearer(picture: Image.Image) -> Image.Image:
    """Stretch what is pale and steepen what is soft."""
    stretched = ImageOps.autocontrast(picture, cutoff=1)
    return stretched.filter(ImageFilter.UnsharpMask(radius=3, percent=250, threshold=0))


def _area(code: zxingcpp.Barcode) -> int:
    """Give twice the area of the four corners (the shoelace formula), in square pixels."""
    at = code.position
    corners = [at.top_left, at.top_right, at.bottom_right, at.bottom_left]
    following = [*corners[1:], corners[0]]
    return abs(sum(a.x * b.y - b.x * a.y for a, b in zip(corners, following, strict=True)))
