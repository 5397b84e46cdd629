from datetime import UTC, datetime

import pytest
from django.utils import timezone

from certs.models import Certificate
from inventory.models import Person, Preference
from tests.certs.papers import given_cut_length_draft

# Fourteen hours ahead of UTC and eleven behind, all the year (IANA time zone database).
AHEAD, BEHIND = "Pacific/Kiritimati", "Pacific/Pago_Pago"


@pytest.mark.parametrize(
    ("at", "zone"),
    [
        pytest.param(datetime(2026, 12, 31, 23, 0, tzinfo=UTC), AHEAD, id="new year there already"),
        pytest.param(datetime(2027, 1, 1, 1, 0, tzinfo=UTC), BEHIND, id="old year there still"),
    ],
)
def test_a_paper_is_numbered_by_the_day_of_the_house(
    at, zone, as_quality, tables, plain_paper, monkeypatch
):
    draft = given_cut_length_draft()
    person = Person.objects.get(pk=as_quality.session["_auth_user_id"])
    Preference.objects.create(person=person, units="us", time_zone=zone)
    monkeypatch.setattr(timezone, "now", lambda: at)
    # The session of today has ended by then.
    as_quality.force_login(person)
    as_quality.post(f"/certificates/{draft.draft_code}/issue/", {})
    paper = Certificate.objects.get(pk=draft.pk)
    assert f"-{at.year}-" in str(paper.number)
    assert " ft" not in paper.snapshot


def test_keys_of_the_tables_are_told_in_words(as_quality, tables):
    text = as_quality.get("/tables/sling-leg-factors/").text
    assert "from the vertical" in text
    assert "from_vertical" not in text
