"""What one comparison of a thing with its specification found, and how several sum up.

What is compared, and with which limit, is decided by the rules that make findings. Here one law
is held for all of them: what is known from memory alone may warn, and never rejects.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from certs.rules.derived import Derived, Given, Source
from inventory.rules.canonical import JsonValue


class Verdict(StrEnum):
    """What a comparison came to."""

    AGREE = "agree"
    DISAGREE = "disagree"
    CANNOT_SAY = "cannot_say"

    @property
    def words(self) -> str:
        """Give the verdict as it is spoken of on pages and paper."""
        return _WORDS[self]


class Outcome(StrEnum):
    """What all comparisons of a thing came to together: the worst of them."""

    AGREES = "agrees"
    CANNOT_SAY = "cannot_say"
    DISAGREES = "disagrees"


_WORDS = {
    Verdict.AGREE: "agrees",
    Verdict.DISAGREE: "does not agree",
    Verdict.CANNOT_SAY: "cannot be said",
}


@dataclass(frozen=True, slots=True)
class Finding:
    """One comparison. `text` says in whole sentences what was found and what it means.

    `rule` names what was held against what; `given` is what was compared where nothing had to be
    derived; `warnings` are to be read by whoever relies on the finding. Raises ValueError for a
    disagreement that rests on memory or habit: there the verdict is that nothing can be said.
    """

    topic: str
    verdict: Verdict
    text: str
    rule: str
    source: Source
    given: tuple[Given, ...] = ()
    derived: tuple[Derived, ...] = ()
    warnings: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a rejection by what is no authority."""
        if self.verdict is Verdict.DISAGREE and self.is_provisional:
            message = f"{self.topic}: what is known from memory may warn, not reject"
            raise ValueError(message)

    @property
    def is_provisional(self) -> bool:
        """Say whether anything it rests on is no authority."""
        return (
            self.source.is_provisional
            or any(given.source and given.source.is_provisional for given in self.given)
            or any(derived.is_provisional for derived in self.derived)
        )

    def as_json(self) -> dict[str, JsonValue]:
        """Give the plain form that is kept with the record; every number is a string."""
        return {
            "topic": self.topic,
            "verdict": self.verdict.value,
            "verdict_text": self.verdict.words,
            "text": self.text,
            "rule": self.rule,
            "source": self.source.as_json(),
            "source_text": self.source.text,
            "given": [given.as_json() for given in self.given],
            "derived": [derived.as_json() for derived in self.derived],
            "warnings": list(self.warnings),
            "is_provisional": self.is_provisional,
        }


def overall(findings: Iterable[Finding]) -> Outcome:
    """Give the worst of the findings; of no finding at all nothing can be said."""
    verdicts = {finding.verdict for finding in findings}
    if Verdict.DISAGREE in verdicts:
        return Outcome.DISAGREES
    if verdicts == {Verdict.AGREE}:
        return Outcome.AGREES
    return Outcome.CANNOT_SAY


def disagreeing(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Keep the findings that do not agree, in their order."""
    return tuple(finding for finding in findings if finding.verdict is Verdict.DISAGREE)


def against(*, is_met: bool, is_provisional: bool) -> Verdict:
    """Give the verdict on a limit: one that is no authority may agree, and never disagrees."""
    if is_met:
        return Verdict.AGREE
    return Verdict.CANNOT_SAY if is_provisional else Verdict.DISAGREE
