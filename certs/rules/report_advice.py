"""Says what to do now with an item that was reported from site.

Common practice, no source: advice until a competent person has looked, never in place of one.
"""

from typing import Final

DAMAGE: Final = "damage"
FAILURE: Final = "failure"
TAG: Final = "tag"
OTHER: Final = "other"

_STOP = (
    "Stop using it now, and keep others from using it: mark it, and put it where nobody takes it."
)
_LEAVE = (
    "Leave the place and all parts as they are, if that is safe: how it broke can be read from"
    " them. Keep everybody clear of what it held."
)
_KEEP = "Repair nothing, cut nothing off, and keep the item with its tag."
_EXAMINE = (
    "Let a competent person examine it before it carries anything again. This report replaces"
    " neither that, nor a notice that your law asks for."
)
_UNKNOWN = (
    "An item whose tag cannot be read, or is not its own, is an unknown item: keep it out of use"
    " until it is known which it is."
)


def do_now(kind: str) -> tuple[str, ...]:
    """Say what to do now, the most urgent first.

    Args:
        kind: what was reported, one of the names above; an unknown one is treated as damage.
    """
    if kind == FAILURE:
        return (_STOP, _LEAVE, _KEEP, _EXAMINE)
    if kind == TAG:
        return (_UNKNOWN, _EXAMINE)
    return (_STOP, _KEEP, _EXAMINE)
