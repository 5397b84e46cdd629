import pytest

from inventory.models import JournalEntry, Preference
from inventory.services.prefer import CannotPrefer, prefer
from tests.factories import given_person


def test_a_person_has_one_way_of_reading_and_changes_it(db):
    person = given_person()
    entries = JournalEntry.objects.count()
    prefer(by=person, units="us", time_zone="America/Denver")
    prefer(by=person, units="metric", time_zone="")
    kept = Preference.objects.get(person=person)
    assert (kept.units, kept.time_zone) == ("metric", "")
    assert JournalEntry.objects.count() == entries


@pytest.mark.parametrize(
    ("units", "time_zone", "field"),
    [
        pytest.param("metric", "Mars/Olympus", "time_zone", id="no such zone"),
        pytest.param("metric", "EST5EDT", "time_zone", id="a zone without a place"),
        pytest.param("cubits", "", "units", id="no such units"),
    ],
)
def test_what_nobody_offered_is_refused(units, time_zone, field, db):
    with pytest.raises(CannotPrefer) as refused:
        prefer(by=given_person(), units=units, time_zone=time_zone)
    assert refused.value.field == field
    assert not Preference.objects.exists()
