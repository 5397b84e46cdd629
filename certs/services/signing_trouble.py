"""Tells beforehand what would keep a paper from being signed, so that its checklist can say it."""

from inventory.rules.signing import Purpose
from inventory.services.key_presence import key_trouble


def signing_trouble() -> str:
    """Say what keeps the keys of a paper and of its credential from signing; empty: nothing."""
    return key_trouble((Purpose.PAPER, Purpose.CREDENTIAL))
