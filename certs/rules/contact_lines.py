"""Finds in the lines of a letterhead what a telephone can be made to call or to write to.

A line that is neither a number nor an address stays as it is: nothing is guessed.
"""

import re
from dataclasses import dataclass
from typing import Final

_MAIL: Final = re.compile(r"[^\s@<>:,;/?&]+@[^\s@<>:,;/?&]+\.[^\s@<>:,;/?&]+")
# A number as people write one: at least six digits, with spaces, brackets, points and strokes.
_NUMBER: Final = re.compile(r"\+?\(?\d(?:[\d ()./-]*\d)?")
_FEWEST_DIGITS: Final = 6
_MOST_DIGITS: Final = 15  # ITU-T E.164, from memory


@dataclass(frozen=True, slots=True)
class ContactLine:
    """A line of the letterhead, what of it is to be pressed, and the address that this calls."""

    before: str
    pressed: str
    after: str
    address: str


def contact_lines(text: str) -> tuple[ContactLine, ...]:
    """Read the lines; `address` is a tel: or mailto: address, empty where a line is neither."""
    return tuple(_read(line.strip()) for line in text.splitlines() if line.strip())


def _read(line: str) -> ContactLine:
    if line.casefold().startswith("fax"):
        return ContactLine(line, "", "", "")
    mail = _MAIL.search(line)
    if mail is not None:
        return _split(line, mail, f"mailto:{mail[0]}")
    for number in _NUMBER.finditer(line):
        digits = re.sub(r"\D", "", number[0].replace("(0)", ""))
        if _FEWEST_DIGITS <= len(digits) <= _MOST_DIGITS and "://" not in line:
            plus = "+" if number[0].startswith("+") else ""
            return _split(line, number, f"tel:{plus}{digits}")
    return ContactLine(line, "", "", "")


def _split(line: str, found: re.Match[str], address: str) -> ContactLine:
    return ContactLine(line[: found.start()], found[0], line[found.end() :], address)
