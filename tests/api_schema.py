"""The API's own description, and every operation in it, for tests."""

from functools import cache
from typing import Any

from drf_spectacular.generators import SchemaGenerator

SAFE = {"get", "head", "options"}


@cache
def schema() -> dict[str, Any]:
    """The OpenAPI document as the program makes it."""
    return SchemaGenerator().get_schema(request=None, public=True)


def unsafe_operations() -> list[tuple[str, str]]:
    """Method and path of everything that changes something; asking for a token changes nothing."""
    return [
        (method, path)
        for path, operations in schema()["paths"].items()
        for method in operations
        if method not in SAFE and path != "/api/token/"
    ]


def with_codes(path: str, code: str = "X-99999") -> str:
    """The path with a code in every gap; one that names nothing unless another is given."""
    while "{" in path:
        before, _, rest = path.partition("{")
        path = f"{before}{code}{rest.partition('}')[2]}"
    return path
