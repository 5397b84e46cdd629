import pytest
from django.urls import reverse

from inventory.rules.roles import Role
from tests.clients import client_of

LISTS = [
    "reels", "heats", "parties", "documents", "orders", "fittings", "assemblies",
    "deliveries", "holds", "machines",
]  # fmt: skip
THINGS = {
    "reel": "reel", "piece": "piece", "heat": "heat", "document": "document", "order": "order",
    "fitting": "lot", "assembly": "assembly", "delivery": "delivery", "hold": "hold",
    "machine": "machine",
}  # fmt: skip
ASKS = {
    "record_heat": None, "register_party": None, "file_document": None,
    "place_order": None, "receive_fittings": None, "build": None, "deliver": None,
    "register_machine": None, "move": "reel", "cut": "reel", "rewind": "reel",
    "reverse_cut": "piece", "take_back": "delivered", "record_calibration": "machine",
    "release_hold": "hold", "place_hold": "reel",
}  # fmt: skip


def address(name, record, of):
    return reverse(f"inventory:{name}", args=[getattr(record, of).code] if of else [])


@pytest.mark.parametrize("name", [*LISTS, "people"])
def test_an_empty_list_teaches_what_belongs_in_it(name, as_administrator, as_stores):
    client = as_administrator if name == "people" else as_stores
    answer = client.get(reverse(f"inventory:{name}"))
    assert answer.status_code == 200
    assert 'class="empty"' in answer.text or name in {"people", "parties"}


@pytest.mark.parametrize("name", LISTS)
def test_a_list_shows_what_is_on_record(name, as_auditor, record):
    answer = as_auditor.get(reverse(f"inventory:{name}"))
    assert answer.text.count("<tr") > 1


@pytest.mark.parametrize(("name", "of"), THINGS.items())
def test_the_page_of_a_thing_names_it(name, of, as_auditor, record):
    answer = as_auditor.get(address(name, record, of))
    assert answer.status_code == 200
    assert "<h1>" in answer.text


@pytest.mark.parametrize("name", THINGS)
def test_a_code_that_nothing_has_is_not_found(name, as_auditor, db):
    assert as_auditor.get(reverse(f"inventory:{name}", args=["Z-00001"])).status_code == 404


@pytest.mark.parametrize(("name", "of"), ASKS.items())
def test_an_act_can_be_asked_for(name, of, as_quality, record):
    answer = as_quality.get(address(name, record, of))
    assert answer.status_code == 200
    assert "csrfmiddlewaretoken" in answer.text


@pytest.mark.parametrize(("name", "of"), ASKS.items())
def test_an_act_is_not_open_to_an_auditor(name, of, as_auditor, record):
    assert as_auditor.get(address(name, record, of)).status_code == 403
    assert as_auditor.post(address(name, record, of)).status_code == 403


@pytest.mark.parametrize(("name", "of"), {**ASKS, **THINGS, "reels": None}.items())
def test_a_stranger_is_asked_to_sign_in(name, of, client, record):
    answer = client.get(address(name, record, of))
    assert answer.status_code == 302
    assert answer["Location"].startswith(reverse("login"))


@pytest.mark.parametrize(("name", "of"), ASKS.items())
def test_nothing_typed_is_refused_in_words(name, of, as_quality, record):
    answer = as_quality.post(address(name, record, of), {"heat-TOTAL_FORMS": "1"})
    assert answer.status_code == 200
    assert "error-summary" in answer.text or name == "take_back"


def test_people_are_for_administrators(as_quality, as_administrator):
    assert as_quality.get(reverse("inventory:people")).status_code == 403
    assert as_administrator.get(reverse("inventory:register_person")).status_code == 200


@pytest.mark.parametrize("role", Role)
def test_every_role_may_read_a_reel(role, record):
    answer = client_of(role).get(reverse("inventory:reel", args=[record.reel.code]))
    assert answer.status_code == 200
