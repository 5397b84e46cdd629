"""Adds to the API's description what may be answered instead of what was asked for.

The shapes are those that `refusals` gives; they are the same for every endpoint.
"""

from collections.abc import Iterator
from typing import Any

from drf_spectacular.plumbing import resolve_type_hint

_PROBLEM = {
    "type": "object",
    "description": "A refusal in words, and the input that it belongs to; empty if to none.",
    "properties": {"problem": {"type": "string"}, "field": {"type": "string"}},
    "required": ["problem", "field"],
}
_DETAIL = {
    "type": "object",
    "properties": {"detail": {"type": "string"}},
    "required": ["detail"],
}
_FAULTS = {
    "type": "object",
    "description": "Per input what is wrong with it, or a refusal that names its input.",
    "additionalProperties": {},
}
# What an endpoint names itself where its address does not tell that it may answer so.
A_PROBLEM = {"$ref": "#/components/schemas/Problem"}
A_DETAIL = {"$ref": "#/components/schemas/Detail"}
_ANSWERS = {
    "400": ("An input is at fault.", {"$ref": "#/components/schemas/Faults"}),
    "401": ("Sign in first.", A_DETAIL),
    "403": ("The person's role does not include this act.", {"anyOf": [A_PROBLEM, A_DETAIL]}),
    "404": ("There is no such thing.", A_DETAIL),
    "409": ("The record stands against it.", A_PROBLEM),
    "413": ("The body is longer than is read here.", A_DETAIL),
    "415": ("The body is of a type that is not read here.", A_DETAIL),
    "429": ("Too many questions; wait a while.", A_DETAIL),
    "503": ("The storage or the database fails; nothing was half done.", A_PROBLEM),
}


def add_problems(
    result: dict[str, Any],
    generator: object,  # noqa: ARG001 -- the signature of a hook
    request: object,  # noqa: ARG001
    public: bool,  # noqa: ARG001, FBT001
) -> dict[str, Any]:
    """Add the answers of refusal to every operation that may give them."""
    shapes = {"Problem": _PROBLEM, "Detail": _DETAIL, "Faults": _FAULTS}
    result["components"]["schemas"] |= shapes
    for operations in result["paths"].values():
        for method, operation in operations.items():
            for status in _statuses(method, operation):
                operation["responses"].setdefault(status, _answer(status))
    return result


def shape_of(answer: type) -> dict[int, dict[str, Any]]:
    """Describe an answer that is a typed dictionary."""
    return {200: resolve_type_hint(answer)}  # type: ignore[no-untyped-call]


def _statuses(method: str, operation: dict[str, Any]) -> Iterator[str]:
    places = {parameter["in"] for parameter in operation.get("parameters", [])}
    if method != "get" or places:
        yield from ("400", "409")
    if method != "get":
        yield from ("403", "413", "415")
    if "path" in places:
        yield "404"
    yield from ("429", "503")
    if {} not in operation.get("security", [{}]):
        yield "401"


def _answer(status: str) -> dict[str, Any]:
    description, schema = _ANSWERS[status]
    return {"description": description, "content": {"application/json": {"schema": schema}}}
