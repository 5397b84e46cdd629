"""Reads from a sealed paper until when its last time stamp can be checked."""

from datetime import UTC, datetime
from io import BytesIO

from pyhanko.pdf_utils.reader import PdfFileReader


def stamp_ends_at(content: bytes) -> datetime | None:
    """Return when the certificate of the last time stamp ends; None for a paper without one.

    Raises what the library raises for bytes that are no PDF: the file is one of our own.
    """
    stamps = PdfFileReader(BytesIO(content)).embedded_timestamp_signatures
    if not stamps:
        return None
    ends: datetime = stamps[-1].signer_cert["tbs_certificate"]["validity"]["not_after"].native
    return ends.astimezone(UTC)
