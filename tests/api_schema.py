"""The API's own description, for tests."""

from functools import cache
from typing import Any

from drf_spectacular.generators import SchemaGenerator


@cache
def schema() -> dict[str, Any]:
    """The OpenAPI document as the program makes it."""
    return SchemaGenerator().get_schema(request=None, public=True)
