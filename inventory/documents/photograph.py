"""Decides which photographs of strangers are taken, and makes of each a picture and no more.

What the camera wrote into the file (place, time, owner, preview) is left behind: the picture is
decoded and written anew. Where the bytes are kept is the service's business.
"""

import warnings
from dataclasses import dataclass
from io import BytesIO
from typing import Final

from PIL import Image, ImageFile, ImageOps, UnidentifiedImageError

from inventory.documents.upload import MAX_PIXELS, UnfitFile
from inventory.rules.canonical import sha256_hex

MAX_PHOTO_BYTES: Final = 8 * 1024 * 1024
LONGEST_SIDE: Final = 4096
_QUALITY: Final = 88


@dataclass(frozen=True, slots=True)
class Photograph:
    """A picture as JPEG without any metadata, and the hash of the bytes it was made from."""

    content: bytes
    original_sha256: str


def take_photograph(sent: bytes) -> Photograph:
    """Make a picture of a JPEG or PNG file: turned upright, at most 4096 pixels a side.

    The same bytes give the same picture.

    Raises:
        UnfitFile: empty, too large, of another type, damaged, or of too many pixels.
    """
    written = BytesIO()
    # Given nothing but the pixels, there is nothing else that could be written.
    upright_picture(sent).save(written, format="JPEG", quality=_QUALITY)
    return Photograph(written.getvalue(), sha256_hex(sent))


def upright_picture(sent: bytes) -> Image.Image:
    """Decode a JPEG or PNG file within the limits, turned upright, its bare pixels only.

    Raises:
        UnfitFile: empty, too large, of another type, damaged, or of too many pixels.
    """
    _check_size(sent)
    # WeasyPrint, once imported, has the whole process take pictures that are cut off.
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        with warnings.catch_warnings():
            # Broken metadata is warned of; it is not kept anyway.
            warnings.simplefilter("ignore")
            return _decoded(sent)
    except UnidentifiedImageError as error:
        message = "Only photographs in JPEG or PNG can be taken."
        raise UnfitFile(message, field="photos") from error
    except Image.DecompressionBombError as error:
        raise _too_many_pixels() from error
    except (OSError, SyntaxError, ValueError, ArithmeticError, LookupError) as error:
        message = "A photograph is damaged or incomplete; choose it again."
        raise UnfitFile(message, field="photos") from error


def _check_size(sent: bytes) -> None:
    if not sent:
        message = "The photograph is empty; choose it again."
        raise UnfitFile(message, field="photos")
    if len(sent) > MAX_PHOTO_BYTES:
        limit = MAX_PHOTO_BYTES // 1024**2
        message = f"A photograph is larger than {limit} MB; take it with fewer pixels."
        raise UnfitFile(message, field="photos")


def _decoded(sent: bytes) -> Image.Image:
    with Image.open(BytesIO(sent), formats=["JPEG", "PNG"]) as image:
        if image.width * image.height > MAX_PIXELS:
            raise _too_many_pixels()
        # A large JPEG is decoded at a half or a quarter, which spares memory.
        image.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
        upright = ImageOps.exif_transpose(image)
        upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
        return _on_white(upright)


def _on_white(image: Image.Image) -> Image.Image:
    """Give the bare pixels, with what is seen through on white."""
    bare = Image.new("RGB", image.size, "white")
    if image.has_transparency_data:
        seen = image.convert("RGBA")
        bare.paste(seen, mask=seen.getchannel("A"))
    else:
        bare.paste(image.convert("RGB"))
    return bare


def _too_many_pixels() -> UnfitFile:
    message = (
        f"A photograph has more than {MAX_PIXELS // 10**6} million pixels; take it with fewer."
    )
    return UnfitFile(message, field="photos")
