from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.breaking_test import Outcome
from certs.rules.derived import Gap
from certs.rules.maker_record import (
    MakerFigures,
    Result,
    Standing,
    maker_figures,
    ratio_of,
    standing_of,
)

NINETY_FIVE = Decimal("0.95")
FIVE = ("1.02", "1.04", "1.06", "1.08", "1.10")


def result(ratio, standing=Standing.MEETS, reel="K-1"):
    return Result(Decimal(ratio), standing, reel)


def figures(*results):
    return maker_figures(results, coverage=NINETY_FIVE, confidence=NINETY_FIVE)


@pytest.mark.parametrize(
    ("outcome", "is_in_doubt", "standing"),
    [
        pytest.param(Outcome.MEETS, False, Standing.MEETS, id="meets"),
        pytest.param(Outcome.FAILS, False, Standing.FAILS, id="fails"),
        pytest.param(Outcome.MEETS_LOWER_BOUND, False, Standing.LOWER_BOUND, id="near a grip"),
        pytest.param(Outcome.DISCOUNTED, False, Standing.DISCOUNTED, id="discounted"),
        pytest.param(Outcome.MEETS, True, Standing.IN_DOUBT, id="machine in doubt"),
    ],
)
def test_standing_follows_outcome_and_machine(outcome, is_in_doubt, standing):
    assert standing_of(outcome, is_in_doubt=is_in_doubt) is standing


@pytest.mark.parametrize(
    ("outcome", "is_in_doubt", "standing"),
    [
        pytest.param(Outcome.MEETS, False, Standing.PLACE_UNKNOWN, id="a pass is not exact"),
        pytest.param(Outcome.FAILS, False, Standing.FAILS, id="a failure counts"),
        pytest.param(Outcome.MEETS, True, Standing.IN_DOUBT, id="the machine comes first"),
    ],
)
def test_standing_of_a_break_without_a_place(outcome, is_in_doubt, standing):
    assert standing_of(outcome, is_in_doubt=is_in_doubt, is_place_known=False) is standing


def test_a_pass_without_a_place_is_shown_and_not_counted():
    five = [result(ratio) for ratio in FIVE]
    unplaced = result("1.20", Standing.PLACE_UNKNOWN, reel="K-2")
    found = figures(*five, unplaced)
    assert found.tolerance == figures(*five).tolerance
    assert found.outside == ()
    assert "nobody wrote down where the rope broke; shown, and not counted" in found.remarks[-1]


def test_ratio_is_measured_over_required():
    assert ratio_of(peak_n=42_600, required_n=41_100) == Decimal("1.0365")


def test_four_are_not_enough():
    gap = figures(*(result(ratio) for ratio in FIVE[:4]))
    assert isinstance(gap, Gap)
    assert "Not enough data: 4 tests" in gap.reason


@pytest.mark.parametrize(
    "standing",
    [Standing.LOWER_BOUND, Standing.DISCOUNTED, Standing.IN_DOUBT, Standing.PLACE_UNKNOWN],
)
def test_only_exact_results_make_up_the_number(standing):
    gap = figures(*(result(ratio) for ratio in FIVE[:4]), *[result("1.05", standing)] * 9)
    assert isinstance(gap, Gap)


def test_five_are_enough():
    found = figures(*(result(ratio) for ratio in FIVE))
    assert isinstance(found, MakerFigures)
    assert found.chart.centre.stated == Decimal("1.06")
    assert not found.is_reached


def test_close_results_reach_the_required_force():
    assert figures(
        *(result(ratio) for ratio in ("1.049", "1.050", "1.051", "1.050", "1.049"))
    ).is_reached


def test_results_all_alike_have_no_spread():
    gap = figures(*[result("1.05")] * 6)
    assert isinstance(gap, Gap)
    assert "no spread" in gap.reason


@pytest.mark.parametrize("standing", [Standing.DISCOUNTED, Standing.IN_DOUBT])
@pytest.mark.parametrize("ratio", ["0.50", "1.90"])
def test_what_is_set_aside_changes_no_figure(standing, ratio):
    plain = figures(*(result(one) for one in FIVE))
    aside = figures(*(result(one) for one in FIVE), result(ratio, standing))
    assert (aside.chart, aside.tolerance, aside.lowest) == (
        plain.chart,
        plain.tolerance,
        plain.lowest,
    )
    assert any("shown, and not counted" in remark for remark in aside.remarks)


def test_failure_counts_as_measured():
    found = figures(*(result(ratio) for ratio in FIVE), result("0.94", Standing.FAILS))
    assert found.chart.centre.stated == Decimal("1.04")
    assert dict(enumerate(given.value for given in found.lowest.inputs))[2] == "0.94"
    assert any("de-rated" in remark for remark in found.remarks)


def test_lower_bound_enters_the_limit_and_not_the_chart():
    plain = figures(*(result(ratio) for ratio in FIVE))
    bounded = figures(*(result(ratio) for ratio in FIVE), result("1.09", Standing.LOWER_BOUND))
    assert bounded.chart == plain.chart
    assert bounded.tolerance.unrounded != plain.tolerance.unrounded
    assert bounded.tolerance.remarks


QUIET = [result(ratio) for ratio in ("1.05", "1.06", "1.05", "1.06", "1.05", "1.06")]


@pytest.mark.parametrize(
    ("odd", "outside"),
    [
        pytest.param(result("1.30", Standing.LOWER_BOUND), (6,), id="bound above"),
        pytest.param(result("1.00", Standing.LOWER_BOUND), (), id="bound below says nothing"),
        pytest.param(result("1.30", Standing.IN_DOUBT), (), id="in doubt"),
        pytest.param(result("0.50", Standing.DISCOUNTED), (), id="discounted"),
    ],
)
def test_places_beyond_the_limits(odd, outside):
    assert figures(*QUIET, odd).outside == outside


def test_place_is_counted_among_all_results():
    low = result("0.80", Standing.FAILS)
    aside = result("1.0", Standing.IN_DOUBT)
    assert figures(aside, *QUIET, *QUIET, low, *QUIET, *QUIET).outside == (13,)


def test_reels_are_counted_once():
    found = figures(*(result(ratio, reel=f"K-{n % 2}") for n, ratio in enumerate(FIVE)))
    assert "5 tests on rope of 2 reels" in found.remarks[0]


@given(
    st.lists(st.tuples(st.decimals("0.8", "1.3", places=4), st.sampled_from(Standing)), max_size=14)
)
def test_every_record_gives_figures_or_says_why_not(rows):
    found = figures(*(result(ratio, standing) for ratio, standing in rows))
    exact = {r for r, s in rows if s in {Standing.MEETS, Standing.FAILS}}
    if isinstance(found, MakerFigures):
        assert len(exact) > 1
        assert found.tolerance.stated < max(r for r, _ in rows)
    else:
        assert found.reason.endswith(".")
