"""Binds a row of the record to the journal by one hash, so that a change of it shows.

A column that is empty counts as one that is not there: a column that is added later, and empty
in every row so far, leaves the hashes of those rows as they are. Which columns of which row
count is decided by `inventory.queries.row_binding`.
"""

import hashlib
import hmac
from base64 import b64encode
from collections.abc import Mapping
from typing import Final

from inventory.rules.canonical import JsonValue, canonical_bytes

_EMPTY: Final[tuple[JsonValue, ...]] = (None, "", False, [], {})


def row_digest(columns: Mapping[str, JsonValue]) -> str:
    """SHA-256 of the row's canonical JSON (RFC 8785), in base64 without its padding.

    An entry may bind a thousand rows and has room for 65,535 bytes: hexadecimal would not fit.

    Raises:
        ValueError: a value that has no canonical form.
    """
    return _base64(hashlib.sha256(_bytes(columns)).digest())


def salted_digest(columns: Mapping[str, JsonValue], *, salt: str) -> str:
    """HMAC-SHA-256 (RFC 2104) of the same under a salt: for columns that may name somebody.

    Nobody without the salt can try names until one fits; forget the salt, and nobody can at all.

    Raises:
        ValueError: a value that has no canonical form.
    """
    return _base64(hmac.digest(salt.encode(), _bytes(columns), "sha256"))


def _bytes(columns: Mapping[str, JsonValue]) -> bytes:
    return canonical_bytes({name: value for name, value in columns.items() if not _empty(value)})


def _base64(digest: bytes) -> str:
    return b64encode(digest).decode().rstrip("=")


def _empty(value: JsonValue) -> bool:
    # Not `in`: nought equals False, and is something.
    return any(type(value) is type(empty) and value == empty for empty in _EMPTY)
