"""Reports from site as they stood on a past day; each moment is written down beside the check."""

from datetime import timedelta

import pytest

from certs.queries.site_reports import reports_at
from certs.services.settle_report import close_report, hold_reported
from tests.certs.sites import given_report
from tests.factories import MOMENT, given_person

HOUR = timedelta(hours=1)


@pytest.fixture
def report(db):
    """Received at once, its rope held after two hours, closed after four."""
    found = given_report()
    person = given_person()
    piece = found.tag.piece
    hold_reported(report=found, subject=piece, reason="looked at", by=person, at=MOMENT + 2 * HOUR)
    found.refresh_from_db()
    close_report(report=found, reason="scrapped", by=person, at=MOMENT + 4 * HOUR)
    return found


@pytest.mark.parametrize(
    ("hours", "is_held", "is_closed"),
    [
        pytest.param(1, False, False, id="received"),
        pytest.param(3, True, False, id="held"),
        pytest.param(5, True, True, id="closed"),
        pytest.param(None, True, True, id="now"),
    ],
)
def test_a_report_is_told_as_it_stood_then(report, hours, is_held, is_closed):
    until = None if hours is None else MOMENT + hours * HOUR
    (found,) = reports_at({report.tag.code}, until=until)
    assert (found.hold is not None, found.closed_at is not None) == (is_held, is_closed)
    assert bool(found.close_reason) == (found.closed_by is not None) == is_closed


def test_what_was_received_later_is_not_told(report):
    assert reports_at({report.tag.code}, until=MOMENT) == []
