"""Every address of the program, read from its own table of addresses."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from django.urls import URLPattern, URLResolver, get_resolver
from rest_framework.schemas.generators import EndpointEnumerator

METHODS = ("GET", "POST", "PUT", "PATCH", "DELETE")
# What the API answers where nothing is; it stands for no endpoint.
NOTHING_HERE = "nothing_here"
# A code that may stand in each gap and that nothing has.
FILLED = {
    "code": "X-99999", "number": "X-99999", "slug": "steels", "pk": "99999", "id": "99999",
    "text": "0" * 16, "designation": "8 6x7-WSC 1770 B sZ", "username": "nobody",
    "position": "1", "entry": "99999",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Endpoint:
    """An address with its gaps as they are written in the table of addresses, and one method."""

    method: str
    path: str

    @property
    def is_api(self) -> bool:
        return self.path.startswith("/api/")

    def __str__(self) -> str:
        return f"{self.method} {self.path}"


def area_of(path: str) -> str:
    """The first part of an address: what its page or endpoint is about."""
    parts = path.strip("/").split("/")
    return "/".join(parts[: 2 if parts[0] == "api" else 1]) or "today"


def by_area(endpoints: Iterable[Endpoint]) -> dict[str, list[Endpoint]]:
    """Endpoints by area, for tests that make their clients once for many requests."""
    found: dict[str, list[Endpoint]] = {}
    for endpoint in endpoints:
        found.setdefault(area_of(endpoint.path), []).append(endpoint)
    return found


def address(path: str, **filled: str) -> str:
    """The path with every gap filled, by default with what names nothing."""
    taken = FILLED | _taken_by(path) | filled
    return re.sub(r"[<{](?:\w+:)?(\w+)[>}]", lambda gap: taken.get(gap[1], "X-99999"), path)


def _taken_by(path: str) -> dict[str, str]:
    """What the API reads as a code, where it is not like other codes."""
    if path.startswith("/api/tags/"):
        return {"code": "0" * 16}
    if path.startswith("/api/certificates/batches/"):
        return {"code": "IB-99999"}
    if path.startswith("/api/certificates/"):
        return {"code": "XX-99999"}
    return {"number": "99999"} if path.startswith("/api/journal/") else {}


@cache
def page_paths() -> tuple[str, ...]:
    """The address of every page."""
    return tuple(dict.fromkeys(f"/{route}" for route in _routes(get_resolver().url_patterns)))


@cache
def api_endpoints() -> tuple[Endpoint, ...]:
    """Every method that an address of the API knows."""
    found = EndpointEnumerator().get_api_endpoints()
    return tuple(Endpoint(method, path) for path, method, _ in found)


def _routes(patterns: list[URLPattern | URLResolver], before: str = "") -> Iterator[str]:
    for pattern in patterns:
        route = f"{before}{pattern.pattern}"
        if route.startswith("api/"):
            continue
        if isinstance(pattern, URLResolver):
            yield from _routes(pattern.url_patterns, route)
        else:
            yield route


def api_addresses() -> list[str]:
    """Addresses under /api/ whose view the framework does not describe, and so nobody lists."""
    api = next(p for p in get_resolver().url_patterns if str(p.pattern) == "api/")
    return [
        str(pattern.pattern)
        for pattern in _leaves(api)
        if not hasattr(pattern.callback, "cls") and pattern.callback.__name__ != NOTHING_HERE
    ]


def _leaves(pattern: URLPattern | URLResolver) -> Iterator[URLPattern]:
    if isinstance(pattern, URLResolver):
        for child in pattern.url_patterns:
            yield from _leaves(child)
    else:
        yield pattern
