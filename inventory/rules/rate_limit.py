"""What a limit such as `60/min` allows, and which clients count as one.

Counting is the service's business.
"""

from dataclasses import dataclass
from ipaddress import IPv6Address, ip_address
from types import MappingProxyType
from typing import Final

_PERIODS_S: Final = MappingProxyType({"s": 1, "min": 60, "hour": 3600, "day": 86_400})
# A house with IPv6 is given a whole /64: addresses within it cost nobody anything.
_HOUSE_BITS: Final = 64


@dataclass(frozen=True, slots=True)
class RateLimit:
    """At most `count` requests within `period_s` seconds."""

    count: int
    period_s: int


def read_limit(text: str) -> RateLimit:
    """Read a limit such as "60/min"; periods are s, min, hour and day.

    Raises:
        ValueError: it is not written so, or allows nothing.
    """
    count, stroke, period = text.partition("/")
    if not stroke or not count.isdecimal() or int(count) < 1 or period not in _PERIODS_S:
        message = f"{text!r} is no limit: write a number and a period, as in 60/min."
        raise ValueError(message)
    return RateLimit(count=int(count), period_s=_PERIODS_S[period])


def client_of(*, peer: str, forwarded: str, proxies: int) -> str:
    """Tell who asks: the address that the outermost of our own proxies saw.

    Args:
        peer: the address that the connection came from.
        forwarded: the header X-Forwarded-For, of which all that our proxies did not add is
            whatever the client likes to claim.
        proxies: how many proxies of ours stand in front; 0 believes none of the header.
    """
    seen = [part.strip() for part in forwarded.split(",") if part.strip()]
    if not proxies or not seen:
        return _house(peer)
    return _house(seen[-min(proxies, len(seen))])


def _house(address: str) -> str:
    try:
        read = ip_address(address)
    except ValueError:
        return address
    if not isinstance(read, IPv6Address):
        return address
    if read.ipv4_mapped is not None:
        return str(read.ipv4_mapped)
    return f"{int(read) >> (128 - _HOUSE_BITS):x}::/{_HOUSE_BITS}"
