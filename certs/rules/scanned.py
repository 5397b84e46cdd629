"""Decides whether a scanned text is an address of another house, before anything is looked up.

A label with our code under a stranger's address would lead whoever scans it with a phone of his
own to the stranger. What a text of ours means is decided by `asked_text`.
"""

import re
from collections.abc import Iterable

_HOST = re.compile(r"[a-z][a-z0-9+.-]*://([^/?#\s]*)", re.IGNORECASE)
_ANY_SCHEME = re.compile(r"(?:[a-z][a-z0-9+.-]*:|//)", re.IGNORECASE)


def strange_house(text: str, *, origins: Iterable[str]) -> str:
    """Return the host that an address leads to if it is none of ours; empty for all other text.

    Args:
        origins: scheme and host of this house, such as "https://rope.example".
    """
    plain = text.strip()
    found = _HOST.match(plain)
    if found is None:
        # Such as "mailto:" or "//host": a code of ours has neither colon nor stroke in it.
        return plain if _ANY_SCHEME.match(plain) else ""
    ours = {_host_of(origin) for origin in origins}
    host = _host_of(plain)
    return "" if host in ours else host


def _host_of(address: str) -> str:
    """Give host and port in small letters, without the name that may stand before an @."""
    found = _HOST.match(address)
    return found[1].rpartition("@")[2].lower() if found else ""
