"""The time zones that a person may read in: the names of the IANA database on this machine."""

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from zoneinfo import available_timezones

# Names without a place are kept for old programs, all but this one.
_UTC = "UTC"
_NO_PLACES = frozenset({"Etc", "SystemV", "US", "posix", "right"})


@cache
def zones_by_region() -> Mapping[str, tuple[str, ...]]:
    """Return the names region by region, each in order; UTC stands alone."""
    found: dict[str, list[str]] = {}
    for name in sorted(available_timezones()):
        region, slash, _ = name.partition("/")
        if slash and region not in _NO_PLACES:
            found.setdefault(region, []).append(name)
    regions = {region: tuple(names) for region, names in found.items()}
    return MappingProxyType({_UTC: (_UTC,), **regions})


def is_zone(name: str) -> bool:
    """Tell whether a name is offered."""
    return name in zones_by_region().get(name.partition("/")[0], ())
