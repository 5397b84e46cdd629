"""Decides how the standing of a mill reel's rope by its breaking-force tests is told on a page."""

from dataclasses import dataclass

from certs.queries.breaking_records import breaking_record_of
from certs.queries.derivation import NoBasis
from certs.rules.breaking_record import BreakingStanding
from inventory.models import Reel

SHAPES = {
    BreakingStanding.NOTHING: "open",
    BreakingStanding.PROVED: "good",
    BreakingStanding.OPEN: "wait",
    BreakingStanding.FAILED: "stop",
}


@dataclass(frozen=True, slots=True)
class ShownRecord:
    """What `templates/certs/_breaking_record.html` shows; `open_tests` are codes."""

    words: str
    shape: str
    reasons: tuple[str, ...]
    to_do: tuple[str, ...]
    open_tests: tuple[str, ...]


def record_shown(reel: Reel) -> ShownRecord | None:
    """Show what the tests on a reel’s rope amount to; None without a basis to weigh against."""
    try:
        record = breaking_record_of(reel)
    except NoBasis:
        return None
    return ShownRecord(
        words=record.words,
        shape=SHAPES[record.standing],
        reasons=record.reasons,
        to_do=record.to_do,
        open_tests=record.open_tests,
    )
