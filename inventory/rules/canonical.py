"""One text for one value (RFC 8785), so that a hash of it means something.

The canonical form itself is the work of the `rfc8785` library. This file decides that floats
stay out: a measured value travels as a string, exactly as it was stated.
"""

import hashlib
from collections.abc import Mapping, Sequence
from typing import TypeAlias, cast

import rfc8785

JsonValue: TypeAlias = (
    str | int | bool | float | Sequence["JsonValue"] | Mapping[str, "JsonValue"] | None
)


def canonical_text(value: JsonValue) -> str:
    """Return the RFC 8785 text of a value that holds no float.

    Raises `TypeError` for a float or a type JSON does not know, naming where it stands, and
    `ValueError` for an integer that JSON readers do not keep exactly (2^53 and beyond) or a
    text with half a surrogate pair.
    """
    _refuse_inexact(value, at="$")
    return canonical_bytes(value).decode()


def canonical_bytes(value: JsonValue) -> bytes:
    """Return the RFC 8785 bytes of a JSON value, floats included.

    Raises `ValueError` for what has no canonical form: a number that readers do not keep
    exactly, half a surrogate pair, a type that JSON does not know.
    """
    # The library's own type knows lists and dicts only, where any sequence or mapping is meant;
    # what is neither at run time it refuses.
    return rfc8785.dumps(cast("dict[str, str]", value))


def sha256_hex(data: bytes) -> str:
    """Return the SHA-256 of the bytes as 64 lower-case hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def _refuse_inexact(value: object, *, at: str) -> None:
    match value:
        case None | bool() | int() | str():
            return
        case float():
            message = f"a float at {at}: write a measured value as a string"
            raise TypeError(message)
        case dict():
            for key, inner in value.items():
                if not isinstance(key, str):
                    message = f"a key that is no string at {at}: {key!r}"
                    raise TypeError(message)
                _refuse_inexact(inner, at=f"{at}.{key}")
        case list() | tuple():
            for index, inner in enumerate(value):
                _refuse_inexact(inner, at=f"{at}[{index}]")
        case _:
            message = f"a {type(value).__name__} at {at}: JSON does not know this type"
            raise TypeError(message)
