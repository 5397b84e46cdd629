"""What the breaking-force tests on one mill reel's rope prove together.

De-rating: ISO 10425:2003 5.1.4. Discounting near a grip: ISO 3108:2017. That a later sure result on
another sample settles a discounted one: common practice, no source.
"""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.breaking_record import BreakingStanding as Standing
from certs.rules.breaking_record import BreakOnRecord, breaking_record, check_repeat
from certs.rules.breaking_test import Outcome
from inventory.rules.refusal import Refusal

START = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
ASKED_N = 60_000
DOUBT = "Testing machine M-1 is under hold H-1."
MEETS, NEAR, DISCOUNTED, FAILS = (
    Outcome.MEETS,
    Outcome.MEETS_LOWER_BOUND,
    Outcome.DISCOUNTED,
    Outcome.FAILS,
)


def broke(number, outcome, peak_n, *, sample="", doubt="", repeats=""):
    """The test of that number, an hour after the one before, on a sample of its own."""
    return BreakOnRecord(
        code=f"BT-{number}",
        sample=sample or f"P-{number}",
        outcome=outcome,
        tested_at=START + timedelta(hours=number),
        peak_n=peak_n,
        doubt=doubt,
        repeats=repeats,
    )


def weigh(*tests, certified_n=ASKED_N):
    return breaking_record(tests, certified_n=certified_n)


GOOD = broke(1, MEETS, 61_000)
NEAR_GRIP = broke(1, NEAR, 60_000)
WEAK_NEAR = broke(1, DISCOUNTED, 55_000)
FAILED = broke(1, FAILS, 57_000)


@pytest.mark.parametrize(
    ("tests", "certified_n", "standing", "is_open"),
    [
        pytest.param([], ASKED_N, Standing.NOTHING, False, id="no test"),
        pytest.param([GOOD], ASKED_N, Standing.PROVED, False, id="a pass"),
        pytest.param([NEAR_GRIP], ASKED_N, Standing.PROVED, False, id="a pass near the grip"),
        pytest.param(
            [broke(1, MEETS, 61_000, doubt=DOUBT)],
            ASKED_N,
            Standing.NOTHING,
            False,
            id="a pass on a machine in doubt",
        ),
        pytest.param([WEAK_NEAR], ASKED_N, Standing.OPEN, True, id="discounted"),
        pytest.param(
            [WEAK_NEAR, broke(2, MEETS, 60_000, repeats="BT-1")],
            ASKED_N,
            Standing.PROVED,
            False,
            id="discounted, retest passed",
        ),
        pytest.param(
            [WEAK_NEAR, broke(2, NEAR, 60_000)],
            ASKED_N,
            Standing.PROVED,
            False,
            id="discounted, later test passed near a grip",
        ),
        pytest.param(
            [WEAK_NEAR, broke(2, FAILS, 58_000)],
            58_000,
            Standing.FAILED,
            False,
            id="discounted, retest failed",
        ),
        pytest.param(
            [WEAK_NEAR, broke(2, DISCOUNTED, 56_000)],
            ASKED_N,
            Standing.OPEN,
            True,
            id="discounted twice",
        ),
        pytest.param(
            [WEAK_NEAR, broke(2, MEETS, 60_000, doubt=DOUBT)],
            ASKED_N,
            Standing.OPEN,
            True,
            id="retest on a machine in doubt",
        ),
        pytest.param(
            [WEAK_NEAR, broke(2, MEETS, 60_000, sample="P-1")],
            ASKED_N,
            Standing.OPEN,
            True,
            id="a pass on the same sample",
        ),
        pytest.param(
            [broke(0, MEETS, 60_000), WEAK_NEAR],
            ASKED_N,
            Standing.OPEN,
            True,
            id="a pass before it settles nothing",
        ),
        pytest.param([FAILED], 57_000, Standing.FAILED, False, id="failed"),
        pytest.param(
            [FAILED, broke(2, MEETS, 65_000)],
            57_000,
            Standing.FAILED,
            False,
            id="a pass never heals a failure",
        ),
        pytest.param(
            [FAILED, broke(2, DISCOUNTED, 58_000)],
            57_000,
            Standing.FAILED,
            False,
            id="discounted, but above the lowered force",
        ),
        pytest.param(
            [FAILED, broke(2, DISCOUNTED, 56_000)],
            57_000,
            Standing.FAILED,
            True,
            id="failed, then discounted below it",
        ),
        pytest.param(
            [GOOD],
            62_000,
            Standing.OPEN,
            True,
            id="a basis named since gives more than measured",
        ),
    ],
)
def test_the_standing(tests, certified_n, standing, is_open):
    found = weigh(*tests, certified_n=certified_n)
    assert (found.standing, bool(found.open_tests)) == (standing, is_open)
    assert len(found.reasons) == len(tests)
    assert len(found.to_do) == len(found.open_tests)


def test_the_lowest_failure_derates():
    found = weigh(FAILED, broke(2, FAILS, 56_500), certified_n=56_500)
    assert found.derated_n == 56_500
    assert found.words == "failed: de-rated to 56.5 kN"


def test_a_failure_with_a_retest_due_says_both():
    found = weigh(FAILED, broke(2, DISCOUNTED, 56_000), certified_n=57_000)
    assert found.words == "failed: de-rated to 57 kN; a retest is due"


def test_an_open_test_says_what_to_do():
    found = weigh(WEAK_NEAR)
    assert found.open_tests == ("BT-1",)
    assert "cut another sample from the same mill reel" in found.to_do[0]
    (reason,) = found.reasons
    assert reason == (
        "BT-1 on sample P-1 broke near a grip at 55 kN and is discounted; not settled: a retest is"
        " due."
    )


def test_a_settled_test_names_what_settled_it():
    found = weigh(broke(2, MEETS, 60_000, repeats="BT-1"), WEAK_NEAR)
    assert found.reasons[0].endswith("discounted; settled by BT-2.")
    assert found.reasons[1].startswith("BT-2 on sample P-2, the retest of BT-1, reached 60 kN")


def test_a_pass_below_what_would_be_certified_today_asks_for_another_basis():
    found = weigh(GOOD, certified_n=62_000)
    assert "name a basis that gives no more" in found.to_do[0]
    assert "less than the 62 kN of today" in found.reasons[0]


def test_a_failure_in_doubt_still_counts_and_says_so():
    found = weigh(broke(1, FAILS, 57_000, doubt=DOUBT), certified_n=57_000)
    assert found.standing is Standing.FAILED
    assert found.reasons[0].endswith(f"It supports nothing: {DOUBT}")


def repeat(**changes):
    said = {
        "repeated": WEAK_NEAR,
        "of_same_reel": True,
        "sample": "P-2",
        "at": START + timedelta(hours=2),
    }
    check_repeat(**(said | changes))


def test_a_discounted_test_is_repeated_on_another_sample_later():
    repeat()


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        pytest.param({"repeated": GOOD}, "retest_of", id="a pass"),
        pytest.param({"repeated": NEAR_GRIP}, "retest_of", id="a pass near the grip"),
        pytest.param({"repeated": FAILED}, "retest_of", id="a failure"),
        pytest.param({"of_same_reel": False}, "retest_of", id="other rope"),
        pytest.param({"sample": "P-1"}, "sample", id="the same sample"),
        pytest.param({"at": START + timedelta(hours=1)}, "tested_at", id="at the same time"),
    ],
)
def test_what_is_no_retest(changes, field):
    with pytest.raises(Refusal) as refused:
        repeat(**changes)
    assert refused.value.field == field


outcomes = st.sampled_from(list(Outcome))
drawn_tests = st.tuples(outcomes, st.integers(50_000, 70_000), st.sampled_from(["", DOUBT]))
several = st.lists(drawn_tests, max_size=6).map(
    lambda drawn: [
        broke(n, outcome, peak_n, doubt=doubt) for n, (outcome, peak_n, doubt) in enumerate(drawn)
    ]
)


@given(several, st.integers(50_000, 70_000))
def test_no_order_of_telling_changes_the_record(tests, certified_n):
    assert weigh(*tests, certified_n=certified_n) == weigh(*tests[::-1], certified_n=certified_n)


@given(several, st.integers(50_000, 70_000), st.integers(0, 5_000))
def test_asking_for_more_never_proves_more(tests, certified_n, more_n):
    now, then = (
        weigh(*tests, certified_n=certified_n),
        weigh(*tests, certified_n=certified_n + more_n),
    )
    assert not (then.standing is Standing.PROVED and now.standing is Standing.OPEN)
    assert now.derated_n == then.derated_n
