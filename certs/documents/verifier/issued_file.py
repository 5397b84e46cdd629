"""Decides whether a PDF is the very file that was issued, or that file with a later time stamp.

A renewed paper holds the issued file whole at its beginning, and what was added behind it counts
only where the journal names the renewed file: anyone can add a time stamp of his own.
"""

import hashlib
import re
from collections.abc import Sequence

from certs.documents.verifier.answers import FAILS, HOLDS, UNSAID, NotReadableError
from certs.documents.verifier.cms import stamped_digest
from certs.documents.verifier.proved_entries import ProvedEntry
from certs.documents.verifier.signed_pdf import read_last_range

_ISSUED, _RENEWED = "issue_certificate", "renew_paper"
_END = re.compile(rb"%%EOF\r?\n?")
_MOST_REVISIONS = 100


def issue_naming(entries: Sequence[ProvedEntry], what: str, data: bytes) -> ProvedEntry | None:
    """Find the entry of an issue that names these bytes as its `what` ("pdf", "credential")."""
    return _issue_of_digest(entries, what, hashlib.sha256(data).hexdigest())


def judge_file(
    data: bytes, numbers: set[str], entries: Sequence[ProvedEntry]
) -> tuple[str, str, ProvedEntry | None]:
    """Judge a PDF; give the entry of its issue too, where every byte of it is the house's.

    Args:
        data: the file.
        numbers: of which certificates its data speak.
        entries: what the journal is proved to say.
    """
    issued = issue_naming(entries, "pdf", data)
    if issued is not None:
        text = f"It is the very file that was issued as {issued.subject} on {issued.at}."
        return HOLDS, text, issued
    begun = _begun_as(data, entries)
    renewal = _renewal_of(data, entries)
    if begun is not None and renewal is not None:
        text = (
            f"It is the file that was issued as {begun.subject} on {begun.at}, whole, with a later "
            f"time stamp; entry {renewal.number} of {renewal.at} names it."
        )
        return HOLDS, text, begun
    if begun is not None and _is_stamped(data):
        text = (
            f"It begins with the very file that was issued as {begun.subject} on {begun.at}. What "
            "was added bears a time stamp over the whole; but no proof was handed in that the "
            "house added it. Hand in the proof of the renewal, or the file as issued."
        )
        return UNSAID, text, None
    if begun is not None:
        text = f"It begins with the file that was issued as {begun.subject}; the rest was added."
        return FAILS, text, None
    if any(e.act == _ISSUED and e.subject in numbers and "pdf_sha256" in e.detail for e in entries):
        text = "It is not the file that was issued under this number: it was changed."
        return FAILS, text, None
    digest = hashlib.sha256(data).hexdigest()
    return UNSAID, f"No proof was handed in that names this file (SHA-256 {digest}).", None


def _begun_as(data: bytes, entries: Sequence[ProvedEntry]) -> ProvedEntry | None:
    """Find the issue of the file that stands whole at the beginning of this one."""
    for match in list(_END.finditer(data))[:_MOST_REVISIONS]:
        found = issue_naming(entries, "pdf", data[: match.end()])
        if found is not None:
            return found
    return None


def _renewal_of(data: bytes, entries: Sequence[ProvedEntry]) -> ProvedEntry | None:
    digest = hashlib.sha256(data).hexdigest()
    named = (e for e in entries if e.act == _RENEWED and e.detail.get("renewed_sha256") == digest)
    return next(named, None)


def _issue_of_digest(entries: Sequence[ProvedEntry], what: str, digest: str) -> ProvedEntry | None:
    named = (e for e in entries if e.act == _ISSUED and e.detail.get(f"{what}_sha256") == digest)
    return next(named, None)


def _is_stamped(data: bytes) -> bool:
    """Tell whether the last revision is a time stamp over all bytes; whose, nobody here knows."""
    try:
        found = read_last_range(data)
        return found is not None and stamped_digest(found.cms) == found.digest
    except NotReadableError:
        return False
