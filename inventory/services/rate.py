"""Counts requests, so that guessing and flooding come to an end; pages and API share the counts.

How much is allowed stands in the settings, by name. A count lives in the cache named `rate`:
with one process it is that process's own, with many they share one that `CACHE_URL` names.
"""

import hashlib
import math
from collections.abc import Mapping
from datetime import datetime
from typing import Final

from django.conf import settings
from django.core.cache import caches

from inventory.rules.rate_limit import client_of, read_limit

# A server that gives no address, as on a socket of the same machine.
_NOBODY: Final = "local"


def wait_s(name: str, who: str, *, at: datetime) -> int:
    """Count one request; return 0, or for how many seconds the next ones are refused.

    Args:
        name: the limit, as `settings.RATE_LIMITS` names it.
        who: whom to count by: an address, a user name. Only its hash is kept.

    Raises:
        KeyError: there is no such limit; a misspelt one must not let everything pass.
    """
    limit = read_limit(settings.RATE_LIMITS[name])
    cache = caches["rate"]
    now_s = at.timestamp()
    key = f"{name}-{hashlib.sha256(who.encode()).hexdigest()}"
    found = cache.get_or_set(f"{key}-ends", now_s + limit.period_s, limit.period_s)
    ends_s = float(found or 0)
    if ends_s <= now_s or ends_s > now_s + limit.period_s:  # left over, or the clock was put back
        ends_s = now_s + limit.period_s
        cache.set(f"{key}-ends", ends_s, limit.period_s)
    counter = f"{key}-{ends_s}"
    cache.add(counter, 0, limit.period_s)
    try:
        count = cache.incr(counter)
    except ValueError:  # the cache let go of it between the two
        count = 1
    return 0 if count <= limit.count else max(1, math.ceil(ends_s - now_s))


def client_address(meta: Mapping[str, object]) -> str:
    """Tell whom to count a request by; `meta` is that of the request (WSGI environment)."""
    return client_of(
        peer=str(meta.get("REMOTE_ADDR") or _NOBODY),
        forwarded=str(meta.get("HTTP_X_FORWARDED_FOR") or ""),
        proxies=int(str(settings.REST_FRAMEWORK["NUM_PROXIES"])),
    )
