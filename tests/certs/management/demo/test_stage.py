"""The calendar of the demonstration goes forward on working days alone."""

from datetime import UTC, date, datetime, time

import pytest

from certs.management.demo.stage import Calendar, Stage


def test_moments_go_forward_within_working_hours():
    calendar = Calendar()
    moments = [calendar.moment() for _ in range(300)]
    assert moments == sorted(set(moments))
    assert all(time(7) <= moment.time() <= time(15, 41) for moment in moments)
    assert all(moment.weekday() < 5 for moment in moments)


def test_a_wait_into_the_weekend_ends_on_monday():
    calendar = Calendar()
    calendar.wait_until(date(2026, 6, 13))
    assert calendar.moment() == datetime(2026, 6, 15, 7, 11, tzinfo=UTC)


@pytest.mark.parametrize("day", [date(2026, 6, 8), date(2026, 6, 15)], ids=["last week", "today"])
def test_no_one_goes_back(day):
    calendar = Calendar()
    calendar.wait(days=7)
    calendar.moment()
    with pytest.raises(ValueError, match=f"too late for {day}"):
        calendar.wait_until(day)


def test_every_stage_has_the_same_chances():
    assert Stage().chance.random() == Stage().chance.random()
