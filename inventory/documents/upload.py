"""Decides whether bytes that somebody handed in may be kept as evidence, and what they are.

The name and the media type that came with them count for nothing: the content is parsed. Where
the bytes are kept is the service's business.
"""

from dataclasses import dataclass
from io import BytesIO

import pikepdf
from PIL import Image, ImageFile, UnidentifiedImageError

from inventory.documents.pdf_dangers import dangers
from inventory.rules.refusal import Refusal

MAX_FILE_BYTES = 20 * 1024 * 1024
MAX_LOG_BYTES = 10 * 1024 * 1024
MAX_PIXELS = 50_000_000

_SIGNATURES = {
    b"%PDF-": ("application/pdf", "pdf"),
    b"\xff\xd8\xff": ("image/jpeg", "jpg"),
    b"\x89PNG\r\n\x1a\n": ("image/png", "png"),
}
_TEXT_CONTROLS = frozenset(b"\t\n\r\f")


class UnfitFile(Refusal):
    """The bytes cannot be kept as evidence."""


@dataclass(frozen=True, slots=True)
class FileKind:
    """What the content is: its media type and the usual ending of a file's name."""

    media_type: str
    extension: str


def check_scan(content: bytes) -> FileKind:
    """Tell what a scanned document is: PDF, JPEG or PNG, whole and harmless.

    Raises:
        UnfitFile: empty, too large, of another type, damaged, encrypted or able to run something.
    """
    _check_size(content, limit_bytes=MAX_FILE_BYTES)
    for signature, (media_type, extension) in _SIGNATURES.items():
        if content.startswith(signature):
            if extension == "pdf":
                _check_pdf(content)
            else:
                _check_image(content)
            return FileKind(media_type, extension)
    message = "This is neither a PDF nor a JPEG nor a PNG file; scan the document to one of them."
    raise UnfitFile(message, field="content")


def check_log(content: bytes) -> FileKind:
    """Tell that a force log is plain text. Whether its rows can be read is decided elsewhere.

    Raises:
        UnfitFile: empty, too large, or not text.
    """
    _check_size(content, limit_bytes=MAX_LOG_BYTES)
    if any(byte < 0x20 and byte not in _TEXT_CONTROLS for byte in set(content)):  # noqa: PLR2004
        message = "This is not a text file; export the log from the machine as CSV."
        raise UnfitFile(message, field="content")
    return FileKind("text/csv", "csv")


def _check_size(content: bytes, *, limit_bytes: int) -> None:
    if not content:
        message = "The file is empty."
        raise UnfitFile(message, field="content")
    if len(content) > limit_bytes:
        message = f"The file is larger than {limit_bytes // 1024**2} MB; scan it more coarsely."
        raise UnfitFile(message, field="content")


def _check_pdf(content: bytes) -> None:
    try:
        with pikepdf.open(BytesIO(content), attempt_recovery=False) as pdf:
            if pdf.is_encrypted:
                raise _encrypted()
            if not len(pdf.pages):
                message = "The PDF has no page."
                raise UnfitFile(message, field="content")
            found = dangers(pdf)
    except pikepdf.PasswordError as error:
        raise _encrypted() from error
    except (pikepdf.PdfError, pikepdf.DataDecodingError) as error:
        message = "The PDF is damaged or incomplete; fetch or scan it again."
        raise UnfitFile(message, field="content") from error
    if found:
        message = f"The PDF holds {', '.join(found)}; print it to a new PDF and hand in that."
        raise UnfitFile(message, field="content")


def _encrypted() -> UnfitFile:
    message = "The PDF is encrypted: nobody could read it in ten years. Save it without protection."
    return UnfitFile(message, field="content")


def _check_image(content: bytes) -> None:
    # WeasyPrint, once imported, has the whole process take pictures that are cut off.
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        with Image.open(BytesIO(content), formats=["JPEG", "PNG"]) as image:
            if image.width * image.height > MAX_PIXELS:
                raise _too_many_pixels()
            image.load()
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise _too_many_pixels() from error
    except (OSError, SyntaxError, ValueError, UnidentifiedImageError) as error:
        message = "The picture is damaged or incomplete; fetch or scan it again."
        raise UnfitFile(message, field="content") from error


def _too_many_pixels() -> UnfitFile:
    message = f"The picture has more than {MAX_PIXELS // 10**6} million pixels; scan more coarsely."
    return UnfitFile(message, field="content")
