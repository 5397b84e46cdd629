"""Reads DER (ITU-T X.690): the form of certificates and of signatures in a PDF.

Only what those need: definite lengths, written as short as they can be, and tags of one byte.
"""

from typing import NamedTuple

from certs.documents.verifier.answers import NotReadableError

INTEGER, OCTETS, BITS, OBJECT, SEQUENCE, SET = 0x02, 0x04, 0x03, 0x06, 0x30, 0x31
CONTEXT_0 = 0xA0
_LONG_TAG = 0x1F
_LONG_LENGTH = 0x80
_MOST_LENGTH_BYTES = 4


class Der(NamedTuple):
    """One value: its tag, its content, and the whole of it as it was written."""

    tag: int
    content: bytes
    whole: bytes

    def parts(self) -> "list[Der]":
        """Give the values inside, in order."""
        return read_all_der(self.content)

    def number(self) -> int:
        """Give a whole number, written as short as it can be. Raises `NotReadableError`."""
        body = self.content
        is_long = len(body) > 1 and body[0] in {0, 0xFF} and (body[0] ^ body[1]) < _LONG_LENGTH
        if self.tag != INTEGER or not body or is_long:
            raise NotReadableError("a whole number is not written as it must be")
        return int.from_bytes(body, "big", signed=True)


def read_der(data: bytes) -> tuple[Der, bytes]:
    """Read the first value, and give what follows it. Raises `NotReadableError`."""
    if len(data) < len("TL") or data[0] & _LONG_TAG == _LONG_TAG:
        raise NotReadableError("its structure breaks off")
    length, at = data[1], 2
    if length >= _LONG_LENGTH:
        count = length - _LONG_LENGTH
        written, at = data[at : at + count], at + count
        length = int.from_bytes(written, "big")
        if not 1 <= count <= _MOST_LENGTH_BYTES or len(written) != count:
            raise NotReadableError("a length in it is not written as it must be")
        if written[0] == 0 or length < _LONG_LENGTH:
            raise NotReadableError("a length in it is longer than it must be")
    end = at + length
    if end > len(data):
        raise NotReadableError("its structure breaks off")
    return Der(data[0], data[at:end], data[:end]), data[end:]


def read_one_der(data: bytes) -> Der:
    """Read a value after which nothing follows. Raises `NotReadableError`."""
    value, rest = read_der(data)
    if rest:
        raise NotReadableError("something follows where nothing should")
    return value


def read_all_der(data: bytes) -> list[Der]:
    """Read values until the bytes end. Raises `NotReadableError`."""
    values = []
    while data:
        value, data = read_der(data)
        values.append(value)
    return values
