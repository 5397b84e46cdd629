"""Reads from a PDF that a stranger handed in what it says it is. Nothing of it is believed here.

Whatever cannot be read is not there: no error of a reader of PDF reaches the caller.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any, Final

import pikepdf

from certs.documents.packed_pdf import may_be_opened

CREDENTIAL: Final = "credential.json"
RECORD: Final = "certificate.json"
MOST_BYTES: Final = 10 * 1024 * 1024
# A form is a little longer than the file in it.
MOST_SENT: Final = MOST_BYTES + 64 * 1024


@dataclass(frozen=True, slots=True)
class HandedInPaper:
    """What a file says of itself: title, identifier, and what is enclosed, by name."""

    is_readable: bool
    title: str = ""
    identifier: bytes = b""
    enclosures: Mapping[str, bytes] = field(default_factory=dict)

    @property
    def credential(self) -> dict[str, Any] | None:
        """Give the enclosed credential as JSON, None where there is none that can be read."""
        return json_object(self.enclosures.get(CREDENTIAL, b""))


def read_handed_in(content: bytes) -> HandedInPaper:
    """Read a PDF. Never raises: of a file that cannot be read nothing is said."""
    try:
        return _read(content) if may_be_opened(content) else HandedInPaper(is_readable=False)
    except Exception:  # noqa: BLE001 -- a stranger's file: whatever goes wrong, it says nothing
        return HandedInPaper(is_readable=False)


def json_object(data: bytes) -> dict[str, Any] | None:
    """Read a JSON object; None for anything else."""
    try:
        read = json.loads(data)
    except (ValueError, RecursionError):
        return None
    return read if isinstance(read, dict) else None


def _read(content: bytes) -> HandedInPaper:
    with pikepdf.open(BytesIO(content), attempt_recovery=False) as pdf:
        found = {
            name: filespec.get_file().read_bytes()
            for name, filespec in pdf.attachments.items()
            if name in {CREDENTIAL, RECORD}
        }
        return HandedInPaper(
            is_readable=True,
            title=str(pdf.docinfo.get("/Title", "")),
            identifier=_identifier(bytes(pdf.trailer.ID[0]) if "/ID" in pdf.trailer else b""),
            enclosures=found,
        )


def _identifier(written: bytes) -> bytes:
    """Read what `paper.as_written` spelled; a file that is not ours may say anything there."""
    try:
        return bytes.fromhex(written.decode("ascii"))
    except ValueError:
        return b""
