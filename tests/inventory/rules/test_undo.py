from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.rules.undo import UNDO_WITHIN, why_not_undone

DONE = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


# Ten minutes: common practice, no source.
@pytest.mark.parametrize(
    ("later", "is_by_the_same", "why"),
    [
        pytest.param(timedelta(0), True, "", id="at once"),
        pytest.param(timedelta(minutes=10), True, "", id="after just ten minutes"),
        pytest.param(timedelta(minutes=10, microseconds=1), True, "10 minutes ago", id="too late"),
        pytest.param(timedelta(seconds=1), False, "Only the person", id="by another"),
    ],
)
def test_a_slip_is_undone_soon_and_by_who_made_it(later, is_by_the_same, why):
    said = why_not_undone(done_at=DONE, at=DONE + later, is_by_the_same=is_by_the_same)
    assert why in said
    assert bool(said) == bool(why)


@given(st.timedeltas(timedelta(0), timedelta(days=3650)))
def test_whatever_is_refused_says_who_can_help(later):
    said = why_not_undone(done_at=DONE, at=DONE + later, is_by_the_same=True)
    assert bool(said) == (later > UNDO_WITHIN)
    assert not said or "QA officer" in said
