"""Tells whether a stranger's PDF may be opened at all: readers of PDF unpack without a limit.

A few megabytes can hold gigabytes. So what is packed is unpacked here first, with a limit, and a
file that packs in a way our papers do not is not opened. Nothing else is decided of it.
"""

import re
import zlib
from typing import Final

MOST_UNPACKED: Final = 64 * 1024 * 1024
# Ways of packing that our papers use: only one at a time, and never said in another place.
# The third is no packing: a signature names its handler so.
_FILTERS: Final = frozenset({b"FlateDecode", b"DCTDecode", b"Adobe.PPKLite"})
_FILTER = re.compile(rb"/Filter\s*(?:/([A-Za-z0-9.]+)|\[\s*(?:/([A-Za-z0-9.]+))?\s*\])?")
# Letters written as numbers, so that a reader sees a name that a search does not.
_HIDDEN_LETTER = re.compile(rb"/[^\s/<>\[\]()]*#(?:3[0-9]|[46][1-9A-Fa-f]|[57][0-9Aa])")
_STREAM = re.compile(rb"stream\r?\n")


def may_be_opened(pdf: bytes) -> bool:
    """Tell whether everything in the file that is packed unpacks to what memory can hold."""
    if b"/Encrypt" in pdf or _HIDDEN_LETTER.search(pdf):
        return False
    for match in _FILTER.finditer(pdf):
        if (match[1] or match[2]) not in _FILTERS:
            return False
    room = MOST_UNPACKED
    for match in _STREAM.finditer(pdf):
        room -= _unpacked_bytes(pdf, match.end(), limit=room + 1)
        if room < 0:
            return False
    return True


def _unpacked_bytes(pdf: bytes, at: int, *, limit: int) -> int:
    """Count what unpacks from here, up to the limit; what is not packed counts for nothing."""
    reader = zlib.decompressobj()
    try:
        return len(reader.decompress(memoryview(pdf)[at:], limit))
    except zlib.error:
        return 0
