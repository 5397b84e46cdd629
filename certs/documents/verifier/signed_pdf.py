"""Reads from a PDF which of its bytes are signed, by what, and the data that are enclosed in it.

Not a reader of PDF: it looks for the few marks that a signed certificate has. That is enough,
because the signature must cover the whole file but its own slot, whatever the marks mean.
"""

import binascii
import hashlib
import re
import zlib
from typing import NamedTuple

from certs.documents.verifier.answers import NotReadableError
from certs.documents.verifier.der import read_der

_RANGE = re.compile(rb"/ByteRange\s*\[\s*(\d{1,12})\s+(\d{1,12})\s+(\d{1,12})\s+(\d{1,12})\s*\]")
_EMBEDDED = re.compile(rb"/Type\s*/EmbeddedFile\b")
_STREAM = re.compile(rb">>\s*stream\r?\n")
_PLAIN_LENGTH = re.compile(rb"/Length\s+(\d{1,9})(?!\s+\d+\s+R)")
_MOST_ENCLOSED = 16 * 1024 * 1024


class SignedRange(NamedTuple):
    """What one signature covers: the digest of those bytes, the CMS, and how many follow."""

    digest: bytes
    cms: bytes
    bytes_after: int


def read_signed_range(pdf: bytes) -> SignedRange | None:
    """Find the first signature, which certifies the paper; None where there is none.

    Raises `NotReadableError` where it covers other bytes than all but its slot.
    """
    ranges = _ranges(pdf)
    return _covered(pdf, min(ranges, key=_end_of)) if ranges else None


def read_last_range(pdf: bytes) -> SignedRange | None:
    """Find the signature or time stamp over the whole file; None where bytes follow the last one.

    Raises `NotReadableError` as above.
    """
    ranges = _ranges(pdf)
    last = max(ranges, key=_end_of) if ranges else None
    return _covered(pdf, last) if last and _end_of(last) == len(pdf) else None


def _ranges(pdf: bytes) -> list[tuple[int, ...]]:
    return [tuple(map(int, match.groups())) for match in _RANGE.finditer(pdf)]


def _end_of(found: tuple[int, ...]) -> int:
    return found[2] + found[3]


def _covered(pdf: bytes, found: tuple[int, ...]) -> SignedRange:
    start, length, again, rest = found
    end = again + rest
    slot = pdf[length:again]
    if start != 0 or not length < again <= end <= len(pdf):
        raise NotReadableError("it says that bytes are signed which it does not have")
    if slot[:1] != b"<" or slot[-1:] != b">":
        raise NotReadableError("bytes beside the signature are left out of it")
    try:
        cms, padding = read_der(bytes.fromhex(slot[1:-1].decode("ascii")))
    except (ValueError, binascii.Error) as problem:
        raise NotReadableError("its signature cannot be read") from problem
    if padding.strip(b"\0"):
        raise NotReadableError("something was written into the room beside its signature")
    digest = hashlib.sha256(pdf[:length] + pdf[again:end]).digest()
    return SignedRange(digest, cms.whole, len(pdf) - end)


def read_enclosures(pdf: bytes) -> list[bytes]:
    """Give the content of every file that is enclosed, as far as it can be found and unpacked."""
    found = []
    for match in _EMBEDDED.finditer(pdf):
        begin = _STREAM.search(pdf, match.end())
        if begin is None:
            break
        head = pdf[pdf.rfind(b" obj", 0, match.start()) : begin.start()]
        if b"/FlateDecode" in head:
            content = _unpacked(pdf[begin.end() :])
        else:
            content = _as_it_stands(pdf, begin.end(), head)
        if content is not None:
            found.append(content)
    return found


def _unpacked(data: bytes) -> bytes | None:
    reader = zlib.decompressobj()
    try:
        content = reader.decompress(data, _MOST_ENCLOSED)
    except zlib.error:
        return None
    return content if reader.eof else None


def _as_it_stands(pdf: bytes, at: int, head: bytes) -> bytes | None:
    length = _PLAIN_LENGTH.search(head)
    return pdf[at : at + int(length[1])] if length and b"/Filter" not in head else None
