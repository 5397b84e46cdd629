"""The code on a tag: 15 symbols of Crockford's base 32 and one check symbol.

75 bits are too many to guess; drawing them is the caller's business. A code is no number of
anything: it says nothing, can be revoked and replaced, and is checked before any look-up.
Alphabet, folding and check symbol follow Douglas Crockford's description of base 32.
"""

from typing import Final

BODY_SYMBOLS: Final = 15
BITS: Final = 5 * BODY_SYMBOLS

_ALPHABET: Final = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
_CHECK_ALPHABET: Final = _ALPHABET + "*~$=U"
_VALUES: Final = {symbol: value for value, symbol in enumerate(_ALPHABET)}
_FOLDED: Final = str.maketrans({"I": "1", "L": "1", "O": "0", " ": None, "-": None})
_GROUP: Final = 4


def code_from_bits(bits: int) -> str | None:
    """Return the code of 75 random bits, or None when another draw is needed.

    In 5 draws of 37 the check symbol is none of the 32 (two of the five do not even fit a QR's
    alphanumeric mode), so such codes are not used. Raises `ValueError` outside 75 bits.
    """
    if not 0 <= bits < 1 << BITS:
        message = f"a tag code is drawn from {BITS} bits"
        raise ValueError(message)
    body = "".join(_ALPHABET[(bits >> shift) & 31] for shift in range(BITS - 5, -1, -5))
    check = check_symbol(body)
    return body + check if check in _VALUES else None


def check_symbol(body: str) -> str:
    """Return the check symbol (value mod 37) of upper-case symbols; may be one of `* ~ $ = U`.

    Raises `ValueError` for a symbol outside the 32.
    """
    remainder = 0
    for symbol in body:
        if symbol not in _VALUES:
            message = f"{symbol!r} is no symbol of the alphabet"
            raise ValueError(message)
        remainder = (remainder * 32 + _VALUES[symbol]) % len(_CHECK_ALPHABET)
    return _CHECK_ALPHABET[remainder]


def fold(text: str) -> str:
    """Return what was meant by what was typed: case, I, L, O, spaces and dashes do not matter."""
    return text.upper().translate(_FOLDED)


def is_well_formed(text: str) -> bool:
    """Tell whether the text, once folded, is a code that could have been issued."""
    code = fold(text)
    if len(code) != BODY_SYMBOLS + 1 or not _VALUES.keys() >= set(code):
        return False
    return check_symbol(code[:-1]) == code[-1]


def grouped(code: str) -> str:
    """Write a code in groups of four, as it stands on the tag."""
    return "-".join(code[start : start + _GROUP] for start in range(0, len(code), _GROUP))
