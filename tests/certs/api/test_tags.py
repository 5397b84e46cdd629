"""Tags over the API: what the house does with them, and what a stranger is told."""

import pytest
from django.core.cache import cache, caches
from rest_framework.test import APIClient

from inventory.rules.tag_code import grouped
from tests.api import get, post
from tests.certs.papers import given_certifiable_piece, given_cut_length_draft, issued
from tests.factories import given_assembly, given_hold, given_piece, given_sample

pytestmark = pytest.mark.usefixtures("tables")
# A well-formed code that was never issued: the check symbol of fifteen noughts is nought.
NEVER_ISSUED = "0" * 16


@pytest.fixture(autouse=True)
def _nobody_scanned_yet():
    cache.clear()
    yield
    cache.clear()


def scan(code):
    return APIClient().get(f"/api/tags/{code}/public/")


@pytest.fixture
def tagged(qa):
    """A certified piece and its tag."""
    piece = given_certifiable_piece()
    issued(given_cut_length_draft(piece))
    return piece, post(qa, "tags/", {"piece": piece.code})["code"]


def test_a_tag_names_one_thing(qa):
    piece, assembly = given_piece(), given_assembly()
    made = post(qa, "tags/", {"assembly": assembly.code})
    assert (made["piece"], made["assembly"]) == (None, assembly.code)
    both = {"piece": piece.code, "assembly": assembly.code}
    assert qa.post("/api/tags/", both, format="json").status_code == 409
    assert qa.post("/api/tags/", {}, format="json").status_code == 409


def test_a_sample_gets_no_tag(qa):
    answer = qa.post("/api/tags/", {"piece": given_sample().code}, format="json")
    assert answer.status_code in {400, 409}


def test_a_stranger_is_told_what_it_is_and_what_it_may_carry(tagged):
    piece, code = tagged
    answer = scan(code)
    assert answer.status_code == 200
    assert answer["Cache-Control"] == "no-store"
    told = answer.json()
    assert told["standing"] == "good"
    assert piece.code in str(told["identity"])
    assert told["loads"]
    assert told["cautions"]


def test_nobodys_name_is_told_to_a_stranger(tagged):
    _, code = tagged
    text = scan(code).content.decode()
    assert "Invented Customer" not in text
    assert "C-00001" not in text
    assert "PO-77" not in text


def test_a_code_is_read_as_people_type_it(tagged):
    _, code = tagged
    assert scan(grouped(code).lower()).json()["code"] == code


def test_a_hold_reaches_the_stranger(tagged):
    piece, code = tagged
    given_hold(piece.reel)
    told = scan(code).json()
    assert (told["standing"], told["loads"]) == ("do_not_use", [])
    assert told["reasons"]


def test_a_revoked_tag_says_so(qa, tagged):
    _, code = tagged
    revoked = post(qa, f"tags/{code}/revoke/", {"reason": "copied"})
    assert revoked["revoked_at"]
    assert scan(code).json()["standing"] == "do_not_use"
    assert get(qa, f"tags/{code}/")["revoke_reason"] == "copied"


@pytest.mark.parametrize("code", [NEVER_ISSUED, "0" * 15 + "1", "wrong", "%00", "a" * 300])
def test_a_wrong_code_and_an_unknown_one_get_the_same_answer(db, code):
    answer = scan(code)
    assert answer.status_code == 404
    assert answer.content == scan(NEVER_ISSUED).content


def test_trying_codes_is_slowed_down_on_pages_and_api_together(client, db, settings):
    settings.RATE_LIMITS = settings.RATE_LIMITS | {"tag": "6/min"}
    caches["rate"].clear()
    statuses = [scan(NEVER_ISSUED).status_code for _ in range(3)]
    statuses += [client.get(f"/t/{NEVER_ISSUED}").status_code for _ in range(4)]
    assert statuses == [404] * 6 + [429]
    refused = scan(NEVER_ISSUED)
    assert refused.status_code == 429
    assert 0 < int(refused["Retry-After"]) <= 60


def test_the_register_of_tags_is_for_people_of_the_house(tagged):
    _, code = tagged
    assert APIClient().get(f"/api/tags/{code}/").status_code == 401
