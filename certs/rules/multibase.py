"""Base 58 as the W3C's Controlled Identifiers 1.0 writes it, and public keys in it.

The alphabet is Bitcoin's; `z` before it is the multibase header of base-58-btc.
"""

from typing import Final

ALPHABET: Final = "123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz"
HEADER: Final = "z"

# Controlled Identifiers 1.0, 2.2.2: the two bytes that mark a Multikey as an Ed25519 public key.
ED25519_KEY: Final = b"\xed\x01"
ED25519_BYTES: Final = 32


def to_multibase(data: bytes) -> str:
    """Write bytes in base 58 behind its header."""
    zeros = len(data) - len(data.lstrip(b"\0"))
    number, digits = int.from_bytes(data), ""
    while number:
        number, digit = divmod(number, 58)
        digits = ALPHABET[digit] + digits
    return HEADER + ALPHABET[0] * zeros + digits


def from_multibase(text: str) -> bytes:
    """Read what `to_multibase` writes.

    Raises `ValueError` for another header or a sign that base 58 does not have.
    """
    if not text.startswith(HEADER):
        message = "not in base 58: it does not begin with z"
        raise ValueError(message)
    digits = text.removeprefix(HEADER)
    number = 0
    for digit in digits:
        number = number * 58 + ALPHABET.index(digit)
    zeros = len(digits) - len(digits.lstrip(ALPHABET[0]))
    return bytes(zeros) + number.to_bytes((number.bit_length() + 7) // 8)


def ed25519_multikey(public_key: bytes) -> str:
    """Write the 32 bytes of an Ed25519 public key as a Multikey."""
    if len(public_key) != ED25519_BYTES:
        message = "an Ed25519 public key has 32 bytes"
        raise ValueError(message)
    return to_multibase(ED25519_KEY + public_key)
