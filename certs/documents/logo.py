"""Decides which pictures are taken for a logo, and makes of each a picture and no more.

It is decoded and written anew as PNG, as photographs are (`inventory.documents.photograph`), but
without loss. Where the bytes are kept is the service's business.
"""

import warnings
from base64 import b64encode
from io import BytesIO
from typing import Final

from PIL import Image, ImageFile, ImageOps, UnidentifiedImageError

from inventory.documents.upload import MAX_PIXELS, UnfitFile

MAX_LOGO_BYTES: Final = 2 * 1024 * 1024
# On paper a logo is at most 60 mm wide: 1200 pixels are 500 to the inch.
LONGEST_SIDE: Final = 1200


def take_logo(sent: bytes) -> bytes:
    """Make a PNG without metadata of a PNG or JPEG file, at most 1200 pixels a side, on white.

    The same bytes give the same picture.

    Raises:
        UnfitFile: empty, too large, of another type, damaged, or of too many pixels.
    """
    if not 0 < len(sent) <= MAX_LOGO_BYTES:
        raise _unfit("The logo is empty or larger than 2 MB; choose another file.")
    # WeasyPrint, once imported, has the whole process take pictures that are cut off.
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        with warnings.catch_warnings():
            # Broken metadata is warned of; it is not kept anyway.
            warnings.simplefilter("ignore")
            picture = _decoded(sent)
    except UnidentifiedImageError as error:
        raise _unfit("Only a picture in PNG or JPEG can be a logo.") from error
    except Image.DecompressionBombError as error:
        raise _too_many_pixels() from error
    except (OSError, SyntaxError, ValueError, ArithmeticError, LookupError) as error:
        raise _unfit("The logo is damaged or incomplete; choose it again.") from error
    written = BytesIO()
    picture.save(written, format="PNG", optimize=True)
    return written.getvalue()


def logo_source(logo: bytes) -> str:
    """Write a logo as the address of a picture that needs nothing fetched; empty without one."""
    return f"data:image/png;base64,{b64encode(logo).decode()}" if logo else ""


def _decoded(sent: bytes) -> Image.Image:
    with Image.open(BytesIO(sent), formats=["PNG", "JPEG"]) as image:
        if image.width * image.height > MAX_PIXELS:
            raise _too_many_pixels()
        upright = ImageOps.exif_transpose(image)
        upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
        bare = Image.new("RGB", upright.size, "white")
        if upright.has_transparency_data:
            seen = upright.convert("RGBA")
            bare.paste(seen, mask=seen.getchannel("A"))
        else:
            bare.paste(upright.convert("RGB"))
        return bare


def _too_many_pixels() -> UnfitFile:
    return _unfit(f"The logo has more than {MAX_PIXELS // 10**6} million pixels; make it smaller.")


def _unfit(message: str) -> UnfitFile:
    return UnfitFile(message, field="logo")
