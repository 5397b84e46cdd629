"""What the breaking-force tests on one mill reel's rope prove together, and what is still open.

A break near a grip below the certified force proves nothing: another sample of the same mill reel
is due. A clear break below it leaves no more than the measured force. Which tests speak of a reel,
and which are in doubt, is decided by `certs.queries.rope_tests`.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Final

from certs.rules.breaking_test import Outcome
from inventory.rules.refusal import Refusal
from inventory.rules.units import format_kn

DERATING: Final = "ISO 10425:2003 5.1.4"
DISCOUNT: Final = "ISO 3108:2017"


class BreakingStanding(StrEnum):
    """What the breaking-force tests on a mill reel's rope amount to."""

    NOTHING = "nothing"
    PROVED = "proved"
    OPEN = "open"
    FAILED = "failed"


STANDING_WORDS: Final = {
    BreakingStanding.NOTHING: "nothing proved by test",
    BreakingStanding.PROVED: "proved by test",
    BreakingStanding.OPEN: "open: a retest is due",
    BreakingStanding.FAILED: "failed: de-rated",
}


@dataclass(frozen=True, slots=True)
class BreakOnRecord:
    """One test as it counts: codes, forces in N, and why it supports nothing; empty: it may.

    `repeats` is the code of the discounted test that this one was made to repeat; empty: none.
    `is_place_known` is False where nobody wrote down where it broke.
    """

    code: str
    sample: str
    outcome: Outcome
    tested_at: datetime
    peak_n: int
    doubt: str = ""
    repeats: str = ""
    is_place_known: bool = True


@dataclass(frozen=True, slots=True)
class BreakingRecord:
    """The standing of a mill reel's rope, why, and what to do.

    `derated_n` is the lowest force (N) of a failed test. `open_tests` are the codes of those that
    ask for something to be done before anything is certified: `to_do` says what, one for each.
    `reasons` tell every test, oldest first.
    """

    standing: BreakingStanding
    reasons: tuple[str, ...]
    derated_n: int | None
    open_tests: tuple[str, ...]
    to_do: tuple[str, ...]

    @property
    def words(self) -> str:
        """The standing in words, with the retest that is due beside a failure."""
        words = STANDING_WORDS[self.standing]
        if self.standing is BreakingStanding.FAILED and self.derated_n is not None:
            words = f"{words} to {format_kn(self.derated_n)}"
            return f"{words}; a retest is due" if self.open_tests else words
        return words


class CannotRepeat(Refusal):
    """A test that repeats no discounted one."""


def breaking_record(tests: Sequence[BreakOnRecord], *, certified_n: int) -> BreakingRecord:
    """Weigh the tests on one mill reel's rope; none that was reversed, in any order.

    `certified_n` is the force (N) that would be certified today, failures taken into account.
    A failure is never outweighed by a later pass: it lowers the force for good. A break near a grip
    is settled by a later sure result on another sample, whether or not it was recorded as the
    retest, or where it reached the force certified today after all. ISO 3108:2017; ISO 10425:2003
    5.1.4; that a later sure result settles it is the meaning of a retest (common practice, no
    source).
    """
    ordered = sorted(tests, key=lambda test: (test.tested_at, test.code))
    failed = [test.peak_n for test in ordered if test.outcome is Outcome.FAILS]
    todo = dict(_open(ordered, certified_n))
    if failed:
        standing = BreakingStanding.FAILED
    elif todo:
        standing = BreakingStanding.OPEN
    elif any(_proves(test, certified_n) for test in ordered):
        standing = BreakingStanding.PROVED
    else:
        standing = BreakingStanding.NOTHING
    return BreakingRecord(
        standing=standing,
        reasons=tuple(_told(test, ordered, certified_n) for test in ordered),
        derated_n=min(failed, default=None),
        open_tests=tuple(todo),
        to_do=tuple(todo.values()),
    )


def check_repeat(*, repeated: BreakOnRecord, of_same_reel: bool, sample: str, at: datetime) -> None:
    """Refuse a retest of anything but a discounted test, on another sample of the same mill reel.

    `sample` and `at` are those of the new test. A reversed test is no test and is kept out before.
    Raises `CannotRepeat`.
    """
    if repeated.outcome is not Outcome.DISCOUNTED:
        message = (
            f"{repeated.code} was not discounted: what it found stands, and is not to be repeated."
            " A further test is recorded by itself."
        )
        raise CannotRepeat(message, field="retest_of")
    if not of_same_reel:
        message = f"{repeated.code} is on rope of another mill reel: a retest is on the same rope."
        raise CannotRepeat(message, field="retest_of")
    if sample == repeated.sample:
        message = f"{sample} broke in {repeated.code} already: cut another sample and break that."
        raise CannotRepeat(message, field="sample")
    if at <= repeated.tested_at:
        message = f"A retest comes after the test that it repeats; {repeated.code} is not before."
        raise CannotRepeat(message, field="tested_at")


def _proves(test: BreakOnRecord, certified_n: int) -> bool:
    return test.peak_n >= certified_n and not test.doubt


def _open(ordered: Sequence[BreakOnRecord], certified_n: int) -> Iterator[tuple[str, str]]:
    """Yield the tests that are not settled, each with what to do."""
    for test in ordered:
        if test.outcome is Outcome.FAILS or test.peak_n >= certified_n:
            continue
        if test.outcome is Outcome.MEETS:
            yield test.code, _below_today(test, certified_n)
        elif _settled_by(test, ordered, certified_n) is None:
            yield test.code, _retest_due(test, certified_n)


def _settled_by(
    test: BreakOnRecord, ordered: Sequence[BreakOnRecord], certified_n: int
) -> BreakOnRecord | None:
    """Return the first later test on another sample that is sure either way."""
    later = (
        other
        for other in ordered
        if other.tested_at > test.tested_at and other.sample != test.sample
    )
    return next(
        (one for one in later if one.outcome is Outcome.FAILS or _proves(one, certified_n)), None
    )


def _below_today(test: BreakOnRecord, certified_n: int) -> str:
    where = "clear of the grips" if test.is_place_known else "where nobody wrote down,"
    return (
        f"{test.code} broke {where} at {format_kn(test.peak_n)}, and"
        f" {format_kn(certified_n)} would be certified today: name a basis that gives no more than"
        " was measured."
    )


def _retest_due(test: BreakOnRecord, certified_n: int) -> str:
    return (
        f"{test.code} broke near a grip at {format_kn(test.peak_n)}, below the"
        f" {format_kn(certified_n)} that would be certified, and proves nothing ({DISCOUNT}): cut"
        " another sample from the same mill reel, break it and record it as the retest."
    )


def _told(test: BreakOnRecord, ordered: Sequence[BreakOnRecord], certified_n: int) -> str:
    head = f"{test.code} on sample {test.sample}"
    if test.repeats:
        head = f"{head}, the retest of {test.repeats},"
    doubt = "" if test.is_place_known else " Nobody wrote down where it broke."
    if test.doubt:
        doubt = f"{doubt} It supports nothing: {test.doubt}"
    at = format_kn(test.peak_n)
    if test.outcome is Outcome.FAILS:
        return f"{head} failed at {at}: the rope is rated at no more than that ({DERATING}).{doubt}"
    if test.peak_n >= certified_n:
        near = "" if test.outcome is Outcome.MEETS else " near a grip: a lower bound"
        return f"{head} reached {at}{near}.{doubt}"
    if test.outcome is Outcome.MEETS:
        return f"{head} reached {at}, less than the {format_kn(certified_n)} of today.{doubt}"
    settled = _settled_by(test, ordered, certified_n)
    by = f"settled by {settled.code}" if settled else "not settled: a retest is due"
    return f"{head} broke near a grip at {at} and is discounted; {by}.{doubt}"
