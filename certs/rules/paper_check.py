"""What a check of a paper comes to: single checks, each with its verdict and what that means.

Which checks are made, and of what, is decided by whoever makes them. Here one law is held: a paper
is good only when every check of it holds, and what could not be checked never counts as good.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum


class CheckVerdict(StrEnum):
    """What one check came to."""

    HOLDS = "holds"
    FAILS = "fails"
    CANNOT_SAY = "cannot_say"

    @property
    def words(self) -> str:
        """Give the verdict as it is spoken of."""
        return self.value.replace("_", " ")


class Topic(StrEnum):
    """What is checked, in the order in which it is told."""

    FILE = "same file as issued"
    SIGNATURE = "signature"
    KEYS = "who vouches for the keys"
    DATA = "enclosed data"
    RECORD = "data as on record"
    JOURNAL = "entry in the journal"
    STATUS = "status now"


class Standing(StrEnum):
    """What all checks of a paper come to together."""

    GOOD = "good"
    NOT_IN_FORCE = "not_in_force"
    NOT_GENUINE = "not_genuine"
    NOT_PROVED = "not_proved"


@dataclass(frozen=True, slots=True)
class PaperCheck:
    """One check. `meaning` says in whole sentences what was found and what that means."""

    topic: Topic
    verdict: CheckVerdict
    meaning: str


def holds(topic: Topic, meaning: str) -> PaperCheck:
    """State a check that holds."""
    return PaperCheck(topic, CheckVerdict.HOLDS, meaning)


def fails(topic: Topic, meaning: str) -> PaperCheck:
    """State a check that fails."""
    return PaperCheck(topic, CheckVerdict.FAILS, meaning)


def cannot_say(topic: Topic, meaning: str) -> PaperCheck:
    """State a check that could not be made."""
    return PaperCheck(topic, CheckVerdict.CANNOT_SAY, meaning)


def standing_of(checks: Sequence[PaperCheck]) -> Standing:
    """Sum the checks up: the worst of them counts, and without any nothing is proved.

    A paper of which nothing fails but its status is genuine and no longer to be relied on.
    """
    failed = {check.topic for check in checks if check.verdict is CheckVerdict.FAILS}
    if failed - {Topic.STATUS}:
        return Standing.NOT_GENUINE
    if failed:
        return Standing.NOT_IN_FORCE
    is_whole = {check.topic for check in checks} == set(Topic)
    if is_whole and all(check.verdict is CheckVerdict.HOLDS for check in checks):
        return Standing.GOOD
    return Standing.NOT_PROVED
