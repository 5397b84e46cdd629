"""Whole months between two days, counted by hand in a calendar."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.whole_months import whole_months

DAYS = st.dates(date(1990, 1, 1), date(2090, 12, 30))


@pytest.mark.parametrize(
    ("since", "until", "months"),
    [
        pytest.param("2026-07-20", "2026-07-20", 0, id="the same day"),
        pytest.param("2026-07-20", "2026-08-19", 0, id="a day short"),
        pytest.param("2026-07-20", "2026-08-20", 1, id="to the day"),
        pytest.param("2026-01-31", "2026-02-27", 0, id="a day before the last of February"),
        pytest.param("2026-01-31", "2026-02-28", 1, id="the last of February"),
        pytest.param("2024-01-31", "2024-02-28", 0, id="not the last of a leap February"),
        pytest.param("2024-01-31", "2024-02-29", 1, id="the last of a leap February"),
        pytest.param("2024-02-29", "2025-02-28", 12, id="a year from a leap day"),
        pytest.param("2025-11-25", "2026-11-25", 12, id="a year"),
        pytest.param("2026-03-31", "2026-04-30", 1, id="from a long month to a short one"),
        pytest.param("2026-08-01", "2026-07-01", 0, id="the other way"),
    ],
)
def test_months_that_are_over(since, until, months):
    assert whole_months(date.fromisoformat(since), date.fromisoformat(until)) == months


@given(DAYS, DAYS, DAYS)
def test_a_later_day_never_has_fewer_months(since, one, other):
    earlier, later = sorted((one, other))
    assert 0 <= whole_months(since, earlier) <= whole_months(since, later)
