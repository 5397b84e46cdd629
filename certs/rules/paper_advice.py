"""Says in which state a checked paper is now, and what whoever holds it should do.

Common practice, no source: advice, never in place of a competent person.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from certs.rules.paper_check import Standing


class State(StrEnum):
    """What is so of a paper today, beside whether it is genuine."""

    IN_FORCE = "in_force"
    SUPERSEDED = "superseded"
    WITHDRAWN = "withdrawn"
    IN_DOUBT = "in_doubt"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Now:
    """The state; `replaced_by` is the number of the paper that took its place, if there is one."""

    state: State
    replaced_by: str = ""


UNKNOWN: Final = Now(State.UNKNOWN)
_COMPARE: Final = (
    "Compare codes, length and marking on the paper with the item in your hand: a genuine paper"
    " can be handed over with the wrong item."
)
_DOUBT: Final = (
    "Take what it speaks of out of use, mark it, and keep it apart. A doubt is not a finding: ask"
    " us what was found, and use it again only when we have said in writing that it was settled."
)
_WITHDRAWN: Final = (
    "Nothing vouches any more for what it speaks of: take it out of use until you have asked us"
    " why, and have another paper or the word of a competent person."
)
_NOT_GENUINE: Final = (
    "Use nothing on the strength of it. Keep the file, note who gave it to you, and ask us for the"
    " paper that we issued."
)
_NOT_PROVED: Final = (
    "Take it for proved only when the checks that could not be made hold too: hand in the PDF"
    " itself, or ask us."
)


def what_to_do(standing: Standing, now: Now) -> str:
    """Say what to do with a paper, and with what it speaks of.

    Args:
        standing: what all its checks came to.
        now: its state today.
    """
    if standing is Standing.NOT_GENUINE:
        return _NOT_GENUINE
    if now.state is State.IN_DOUBT:
        return _DOUBT
    if now.state is State.WITHDRAWN:
        return _WITHDRAWN
    if now.state is State.SUPERSEDED:
        later = now.replaced_by or "the paper that took its place"
        return f"Put it aside and ask for {later}: go by what that one says, and not by this one."
    return _COMPARE if standing is Standing.GOOD else _NOT_PROVED
