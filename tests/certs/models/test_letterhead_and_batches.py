"""What the database refuses of letterheads, batches of drafts, languages and preferences."""

from datetime import timedelta

import pytest

from certs.models import IssueBatch, IssueBatchLine
from certs.services.letterhead import CannotSetLetterhead, HeadAsked, set_letterhead
from inventory.models import JournalEntry, Preference
from inventory.rules.roles import Role
from inventory.services.parties import CannotChangeParty, change_party_language
from tests.certs.papers import given_cut_length_draft
from tests.factories import MOMENT, given_customer, given_person
from tests.inventory.models.ways import INSERTS, UPDATES, copy_of, refused_by

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]
LATER = MOMENT + timedelta(minutes=1)


def given_letterhead(**changes):
    facts = {"name": "Invented Rope House", "address": "1 Invented Quay"} | changes
    return set_letterhead(head=HeadAsked(**facts), by=given_person(Role.ADMINISTRATOR), at=MOMENT)


@pytest.fixture
def batch():
    return IssueBatch.objects.create(
        code="b" * 16, started_at=MOMENT, started_by=given_person(), moved_at=MOMENT
    )


@pytest.fixture
def line(batch):
    return IssueBatchLine.objects.create(batch=batch, position=1, draft_code="CD-00001")


@pytest.mark.parametrize("column", ["name", "address", "accreditation", "set_at"])
@pytest.mark.parametrize("update", UPDATES)
def test_a_letterhead_is_never_changed(update, column):
    head = given_letterhead()
    with refused_by("certs_letterhead_is_kept"):
        update(head, column, LATER if column == "set_at" else "Another")


@pytest.mark.parametrize("empty", ["name", "address"])
@pytest.mark.parametrize("insert", INSERTS)
def test_a_letterhead_has_name_and_address(insert, empty):
    with refused_by("letterhead_has_name_and_address"):
        insert(copy_of(given_letterhead(), **{empty: ""}))


def test_a_letterhead_without_a_name_is_refused_in_words():
    with pytest.raises(CannotSetLetterhead, match="cannot be left empty"):
        given_letterhead(name="  ")


@pytest.mark.parametrize(
    "facts",
    [
        pytest.param({"outcome": "issued", "settled_at": LATER}, id="issued without a number"),
        pytest.param({"outcome": "stayed", "settled_at": LATER}, id="stayed without a reason"),
        pytest.param({"outcome": "issued", "number": "AT-1"}, id="issued at no time"),
        pytest.param({"number": "AT-1"}, id="waiting with a number"),
        pytest.param({"outcome": "lost", "settled_at": LATER, "reason": "?"}, id="no such outcome"),
    ],
)
@pytest.mark.parametrize("insert", INSERTS)
def test_a_line_says_what_became_of_it(line, insert, facts):
    with refused_by("issue_batch_line_says_what_became_of_it"):
        insert(copy_of(line, position=2, draft_code="CD-00002", **facts))


@pytest.mark.parametrize("insert", INSERTS)
def test_a_batch_names_a_draft_once(line, insert):
    with refused_by("issue_batch_names_a_draft_once"):
        insert(copy_of(line, position=2))


@pytest.mark.parametrize("insert", INSERTS)
def test_a_batch_ends_after_it_starts(batch, insert):
    with refused_by("issue_batch_ends_after_it_starts"):
        insert(copy_of(batch, code="c" * 16, finished_at=MOMENT - timedelta(seconds=1)))


@pytest.mark.parametrize("update", UPDATES)
def test_only_known_languages_are_written(update):
    with refused_by("party_language_is_known"):
        update(given_customer(), "language", "xx")
    with refused_by("certificate_language_is_known"):
        update(given_cut_length_draft(), "language", "xx")


def test_a_party_is_written_to_in_another_language_from_now_on():
    customer = change_party_language(
        party=given_customer(), language="pl", by=given_person(), at=LATER
    )
    entry = JournalEntry.objects.latest("id")
    customer.refresh_from_db()
    assert (customer.language, entry.act, entry.subject) == ("pl", "change_party", customer.code)


def test_a_language_that_the_house_does_not_write_is_refused():
    with pytest.raises(CannotChangeParty, match="is none of the choices"):
        change_party_language(party=given_customer(), language="xx", by=given_person(), at=LATER)


@pytest.mark.parametrize("insert", INSERTS)
def test_preferred_units_are_known(insert):
    with refused_by("preference_units_are_known"):
        insert(Preference(person=given_person(), units="cubits"))
