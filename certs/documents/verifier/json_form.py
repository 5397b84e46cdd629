"""Reads JSON strictly and writes it in canonical form (RFC 8785), for JSON without fractions.

Records hold whole numbers and text only, so numbers with a fraction are refused: how they would
be written is left to programs that need them.
"""

import json
from typing import Any, NoReturn

from certs.documents.verifier.answers import NotReadableError

# Beyond this, readers of JSON do not keep whole numbers exactly (RFC 8785, 3.2.2.3; RFC 7493).
GREATEST_WHOLE = 2**53 - 1


def read_json(data: bytes) -> Any:  # noqa: ANN401 -- JSON is any of six types
    """Read JSON in which no name stands twice and no number has a fraction.

    Raises `NotReadableError` for anything else: two readers might take it for two things.
    """
    try:
        return json.loads(
            data.decode("utf-8"),
            object_pairs_hook=_each_name_once,
            parse_float=_refuse_fraction,
            parse_constant=_refuse_fraction,
        )
    except NotReadableError:
        raise
    except (ValueError, RecursionError) as problem:
        raise NotReadableError("it is not JSON") from problem


def canonical_json(value: object) -> bytes:
    """Write a value as RFC 8785 wants it. Raises `NotReadableError` if it has no such form."""
    try:
        return _written(value).encode("utf-8")
    except UnicodeEncodeError as problem:
        raise NotReadableError("it holds half a character") from problem
    except RecursionError as problem:
        raise NotReadableError("it is nested too deeply") from problem


def _written(value: object) -> str:
    if isinstance(value, dict):
        names = sorted(value, key=_utf16_order)
        inner = ",".join(f"{_quoted(name)}:{_written(value[name])}" for name in names)
        return "{" + inner + "}"
    if isinstance(value, (list, tuple)):
        return "[" + ",".join(map(_written, value)) + "]"
    if isinstance(value, str):
        return _quoted(value)
    if value is None or isinstance(value, bool):
        return json.dumps(value)
    if isinstance(value, int) and -GREATEST_WHOLE <= value <= GREATEST_WHOLE:
        return str(value)
    raise NotReadableError(f"it holds a number that is not kept exactly: {value!r}")


def _utf16_order(name: str) -> bytes:
    """RFC 8785, 3.2.3: names are ordered by their UTF-16 code units."""
    return name.encode("utf-16-be", "surrogatepass")


def _quoted(text: str) -> str:
    # Python escapes exactly the characters that RFC 8785, 3.2.2.2 names, in lower case.
    return json.dumps(text, ensure_ascii=False)


def _each_name_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    read = dict(pairs)
    if len(read) != len(pairs):
        raise NotReadableError("a name stands in it twice")
    return read


def _refuse_fraction(text: str) -> NoReturn:
    raise NotReadableError(f"it holds the number {text}; records hold whole numbers only")
