"""The register of representatives: who may stand in it, and until when."""

from datetime import date

import pytest

from certs.models import Representative
from certs.services.representatives import (
    CannotRegisterRepresentative,
    end_representation,
    register_representative,
)
from inventory.models import JournalEntry
from inventory.rules.roles import Role
from inventory.services.authority import NotAllowed
from tests.factories import MOMENT, given_person

pytestmark = pytest.mark.django_db


def register(**said):
    values = {
        "person": given_person(Role.QA_OFFICER),
        "capacity": "manufacturer",
        "organisation": "Invented stockist",
        "is_independent": True,
        "valid_from_date": date(2026, 1, 1),
        "by": given_person(Role.ADMINISTRATOR),
        "at": MOMENT,
    }
    return register_representative(**(values | said))


def test_a_person_is_registered_and_the_journal_names_him_by_hash_alone():
    row = register()
    entry = JournalEntry.objects.order_by("number").last()
    assert (row.valid_to_date, entry.act) == (None, "register_representative")
    assert '"valid_from":"2026-01-01"' in entry.canonical
    assert "Quality" not in entry.canonical


def test_the_representative_of_a_purchaser_need_not_be_of_this_house():
    row = register(
        person=given_person(Role.INSPECTION_REPRESENTATIVE),
        capacity="purchaser",
        is_independent=False,
    )
    assert row.capacity == Representative.Capacity.PURCHASER


@pytest.mark.parametrize(
    ("said", "field"),
    [
        pytest.param({"capacity": "friend"}, "capacity", id="no such capacity"),
        pytest.param({"organisation": " "}, "organisation", id="for nobody"),
        # EN 10204:2004, 4.1.
        pytest.param({"is_independent": False}, "is_independent", id="of the making department"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(said, field):
    with pytest.raises(CannotRegisterRepresentative) as refused:
        register(**said)
    assert refused.value.field == field


def test_a_last_day_before_the_first_is_refused():
    with pytest.raises(CannotRegisterRepresentative):
        register(valid_to_date=date(2025, 12, 31))


@pytest.mark.parametrize("role", [Role.STORES, Role.TEST_BENCH, Role.AUDITOR, Role.ADMINISTRATOR])
def test_a_role_that_validates_nothing_is_not_registered(role):
    with pytest.raises(CannotRegisterRepresentative):
        register(person=given_person(role))


def test_whoever_issues_appoints_nobody():
    with pytest.raises(NotAllowed):
        register(by=given_person(Role.QA_OFFICER))


def test_a_representation_ends_on_a_day():
    row = end_representation(
        representative=register(),
        valid_to_date=date(2026, 6, 30),
        by=given_person(Role.ADMINISTRATOR),
        at=MOMENT,
    )
    assert row.valid_to_date == date(2026, 6, 30)
    entry = JournalEntry.objects.order_by("number").last()
    assert '"valid_to":"2026-06-30"' in entry.canonical


def test_a_representation_does_not_end_before_it_began():
    row = register()
    with pytest.raises(CannotRegisterRepresentative):
        end_representation(
            representative=row,
            valid_to_date=date(2025, 12, 31),
            by=given_person(Role.ADMINISTRATOR),
            at=MOMENT,
        )
    row.refresh_from_db()
    assert row.valid_to_date is None
