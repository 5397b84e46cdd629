"""Binds a row of the record to the journal by one hash, so that a change of it shows.

A column that is empty counts as one that is not there: a column that is added later, and empty
in every row so far, leaves the hashes of those rows as they are. Which columns of which row
count is decided by `inventory.queries.row_binding`.
"""

import hmac
from collections.abc import Mapping
from typing import Final

from inventory.rules.canonical import JsonValue, canonical_bytes, sha256_hex

_EMPTY: Final[tuple[JsonValue, ...]] = (None, "", False, [], {})


def row_digest(columns: Mapping[str, JsonValue]) -> str:
    """SHA-256 of the row's canonical JSON (RFC 8785), as 64 hexadecimal digits.

    Raises:
        ValueError: a value that has no canonical form.
    """
    return sha256_hex(_bytes(columns))


def salted_digest(columns: Mapping[str, JsonValue], *, salt: str) -> str:
    """HMAC-SHA-256 (RFC 2104) of the same under a salt: for columns that may name somebody.

    Nobody without the salt can try names until one fits; forget the salt, and nobody can at all.

    Raises:
        ValueError: a value that has no canonical form.
    """
    return hmac.digest(salt.encode(), _bytes(columns), "sha256").hex()


def _bytes(columns: Mapping[str, JsonValue]) -> bytes:
    return canonical_bytes({name: value for name, value in columns.items() if not _empty(value)})


def _empty(value: JsonValue) -> bool:
    # Not `in`: nought equals False, and is something.
    return any(type(value) is type(empty) and value == empty for empty in _EMPTY)
