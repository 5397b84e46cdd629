"""Decides how the code of a paper is drawn, and where whoever holds the paper may check it."""

from inventory.documents.qr import draw_qr


def code_drawn(address: str, *, title: str) -> str:
    """Draw the code of a paper; a draft has none, so that nothing on it can be scanned."""
    return draw_qr(address, title=title).drawing if address else ""


def check_address(tag_address: str) -> str:
    """Say where a paper is checked: at the house that its tag leads to."""
    return f"{tag_address.rpartition('/T/')[0].lower()}/check"
