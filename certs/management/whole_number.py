"""Reads a count of days or minutes that somebody typed at a terminal."""

from argparse import ArgumentTypeError

# Ten years in minutes: far above what any command asks for, far below what overflows a date.
_MOST = 10 * 366 * 24 * 60


def whole_number(text: str) -> int:
    """Read a whole number from 0 on.

    Raises:
        ArgumentTypeError: it is none, with the sentence that the terminal shows.
    """
    if not (text.isascii() and text.isdigit() and len(text) <= len(str(_MOST))):
        message = f"{text!r} is no whole number from 0 on"
        raise ArgumentTypeError(message)
    if int(text) > _MOST:
        message = f"{text} is more than ten years"
        raise ArgumentTypeError(message)
    return int(text)
