"""Writes what happened at the gate to the log named `security`: who got in, who was refused.

It names an event and a user name, and nothing else of a person: no address, no pass phrase, no
code. What a stranger typed as a user name may be his pass phrase, so only names on record are
written.
"""

import logging
from typing import Final

from inventory.models import Person

LOG: Final = logging.getLogger("security")
NOBODY: Final = "unknown"


def note(event: str, *, person: Person | None = None, **facts: str | int) -> None:
    """Note one event; `facts` are words of ours, never what somebody typed."""
    told = {"person": person.get_username() if person else NOBODY, **facts}
    words = " ".join(f"{name}={value}" for name, value in told.items())
    LOG.info("event=%s %s", event, words)
