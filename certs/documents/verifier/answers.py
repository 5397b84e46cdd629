"""What the stand-alone verifier answers: one check, its verdict, and what that means.

This package is the source of the one file that auditors run on their own machine, without this
program. It shares no line with the program, so that one can be held against the other, and needs
nothing but Python 3.9; `certs.documents.verifier_file` joins its parts.
"""

from typing import NamedTuple

HOLDS = "holds"
FAILS = "fails"
UNSAID = "cannot say"


class NotReadableError(ValueError):
    """A file is not what it seems to be; the text says what is wrong with it."""


class Check(NamedTuple):
    """One thing that was looked at: in which file, with which verdict, and what it means."""

    subject: str
    name: str
    verdict: str
    meaning: str


def outcome_of(checks: list[Check]) -> int:
    """Give the exit code: 0 when all hold, 1 when one fails, 3 when one cannot be said."""
    verdicts = {check.verdict for check in checks}
    if FAILS in verdicts:
        return 1
    return 0 if verdicts == {HOLDS} else 3
