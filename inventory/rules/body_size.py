"""How long a request says it is, and what is said to one that is too long.

A server hands on no more than a request says it holds, so what it says is enough to go by.
"""


def said_bytes(said: str) -> int:
    """Read a Content-Length; what is no number counts as nothing, as nothing is then read."""
    return int(said) if said.isascii() and said.isdecimal() else 0


def too_large(most_bytes: int) -> str:
    """Say how much may be sent."""
    most_mb = most_bytes // 1024**2
    return f"This is more than {most_mb} MB, and nothing of it was read. Send less at once."
