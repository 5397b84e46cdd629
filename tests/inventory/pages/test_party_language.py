import json

import pytest
from django.urls import reverse

from inventory.models import JournalEntry
from tests.api import client_for
from tests.factories import given_customer, given_mill

pytestmark = pytest.mark.django_db


def page(party):
    return reverse("inventory:party_language", args=[party.code])


def test_the_language_of_a_customers_papers_is_changed_and_listed(as_quality):
    party = given_customer()
    answer = as_quality.post(page(party), {"language": "pl"}, follow=True)
    party.refresh_from_db()
    assert party.language == "pl"
    assert "are written in Polski from now on" in answer.text
    assert f'href="{page(party)}"' in answer.text
    entry = JournalEntry.objects.get(act="change_party")
    assert entry.subject == party.code
    assert json.loads(entry.canonical)["detail"]["language"] == "pl"


def test_a_language_that_no_paper_is_set_in_is_not_offered(as_quality):
    party = given_customer()
    assert "العربية" not in as_quality.get(page(party)).text
    answer = as_quality.post(page(party), {"language": "ar"})
    assert "error-summary" in answer.text
    party.refresh_from_db()
    assert party.language == "en"


def test_a_mill_is_sent_no_papers(as_quality):
    assert as_quality.get(page(given_mill())).status_code == 404


def test_the_api_tells_and_changes_it(qa_officer):
    party, client = given_customer(), client_for(qa_officer)
    answer = client.post(f"/api/parties/{party.code}/language/", {"language": "fr"}, format="json")
    assert (answer.status_code, answer.json()["language"]) == (200, "fr")
    assert client.get(f"/api/parties/{party.code}/").json()["language"] == "fr"
    wrong = client.post(f"/api/parties/{party.code}/language/", {"language": "ar"}, format="json")
    assert wrong.status_code == 400
