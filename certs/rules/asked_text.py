"""Decides what a text typed, pasted or scanned into the search box could mean, before any look-up.

Which of it is on record is decided by whoever asks the record.
"""

import re
from dataclasses import dataclass
from typing import Final

from inventory.rules.tag_code import fold, is_well_formed

LEAST_WORD: Final = 2
"""A word of fewer signs stands in almost everything; own choice."""

_CODE = re.compile(r"([A-Z]{1,2})[ -]*0*([0-9]{1,9})", re.ASCII)
_NUMBER = re.compile(r"([A-Z]{2})[ -]*([0-9]{4})[ -]+0*([0-9]{1,9})", re.ASCII)
_ADDRESS = re.compile(r"(https?://[^/]*|)/+(.+)", re.IGNORECASE | re.DOTALL)


@dataclass(frozen=True, slots=True)
class AskedText:
    """What was asked for, plainly, and what it could be; "" for what it cannot.

    `code` is a code of ours ("R-00012"), `number` that of a certificate ("AT-2026-00001"), `tag`
    the code of a tag, `word` what names and numbers of others may hold.
    """

    text: str
    code: str = ""
    number: str = ""
    tag: str = ""
    word: str = ""


def asked_text(typed: str) -> AskedText:
    """Read a text as people type it: "r12", "at 2026 1", a tag in groups, or a whole address.

    An address is read from its end: the last part of it that could be a code is meant.
    """
    plain = " ".join(typed.replace("\x00", "").split())
    address = _ADDRESS.fullmatch(plain)
    if address is None:
        return _asked(plain)
    path = re.split(r"[?#]", address[2])[0]
    parts = [part for part in path.split("/") if part]
    for part in reversed(parts):
        found = _asked(part)
        if found.code or found.number or found.tag:
            return found
    return _asked(plain)


def _asked(text: str) -> AskedText:
    capitals = text.upper()
    code, number = _CODE.fullmatch(capitals), _NUMBER.fullmatch(capitals)
    return AskedText(
        text=text,
        code=f"{code[1]}-{int(code[2]):05d}" if code else "",
        number=f"{number[1]}-{number[2]}-{int(number[3]):05d}" if number else "",
        tag=fold(text) if is_well_formed(text) else "",
        word=text if len(text) >= LEAST_WORD else "",
    )
