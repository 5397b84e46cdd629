import pytest
from django.urls import reverse

from inventory.rules.roles import Role
from tests.clients import client_of

LISTS = [
    "today", "specifications", "tests", "proof_tests", "wire_tests", "maker_records",
    "certificates", "issue_batches",
    "decision_rules", "what_if", "force_to_show",
    "representatives", "trace", "recall", "around", "affected_papers", "site_reports",
    "recall_notices", "letterhead",
]  # fmt: skip
PAGES = {
    "reel_strength": "reel", "read_reel": "reel", "check_reel": "reel", "receiving_check": "check",
    "assembly_strength": "assembly", "breaking_test": "breaking", "proof_test": "proof",
    "wire_test": "wires",
}  # fmt: skip
ASKS = {
    "receive_reel": None, "record_breaking": None, "record_proof": None, "record_wires": None,
    "draft_cut_length": None, "draft_several": None,
    "draft_assembly": None, "draft_breaking": None, "labels": None, "add_agreed": None,
    "choose_rule": None,
    "correct": "certificate", "withdraw": "certificate", "revoke_tag": "tag",
    "reverse_test": "proof",
}  # fmt: skip


def address(name, claims, of):
    if of is None:
        return reverse(f"certs:{name}")
    thing = getattr(claims, of)
    return reverse(f"certs:{name}", args=[getattr(thing, "number", None) or thing.code])


@pytest.mark.parametrize("name", LISTS)
def test_an_empty_page_teaches_what_it_is_for(name, as_auditor):
    answer = as_auditor.get(reverse(f"certs:{name}"))
    assert answer.status_code == 200
    assert "<h1>" in answer.text
    assert 'class="empty"' in answer.text or name == "today"


@pytest.mark.parametrize("name", LISTS)
def test_a_page_is_shown_with_claims_on_record(name, as_auditor, claims):
    assert as_auditor.get(reverse(f"certs:{name}")).status_code == 200


@pytest.mark.parametrize(("name", "of"), PAGES.items())
def test_the_page_of_a_claim_names_it(name, of, as_auditor, claims):
    answer = as_auditor.get(address(name, claims, of))
    assert answer.status_code == 200
    assert getattr(claims, of).code in answer.text


@pytest.mark.parametrize("name", [*PAGES, "certificate", "force_log", "certificate_pdf"])
def test_a_code_that_nothing_has_is_not_found(name, as_auditor):
    assert as_auditor.get(reverse(f"certs:{name}", args=["Z-00001"])).status_code == 404


@pytest.mark.parametrize(("name", "of"), ASKS.items())
def test_an_act_can_be_asked_for(name, of, as_quality, claims):
    answer = as_quality.get(address(name, claims, of))
    assert answer.status_code == 200
    assert "csrfmiddlewaretoken" in answer.text


@pytest.mark.parametrize(("name", "of"), ASKS.items())
def test_an_act_is_not_open_to_an_auditor(name, of, as_auditor, claims):
    assert as_auditor.get(address(name, claims, of)).status_code == 403
    assert as_auditor.post(address(name, claims, of)).status_code == 403


@pytest.mark.parametrize(("name", "of"), ASKS.items())
def test_nothing_typed_is_refused_in_words(name, of, as_quality, claims):
    answer = as_quality.post(address(name, claims, of), {})
    assert answer.status_code == 200
    assert "error-summary" in answer.text


@pytest.mark.parametrize("role", Role)
def test_every_role_may_read_a_certificate(role, claims):
    page = reverse("certs:certificate", args=[claims.certificate.number])
    assert client_of(role).get(page).status_code == 200


def test_the_first_page_leads_a_stranger_to_the_sign_in(client, db):
    answer = client.get("/", follow=True)
    assert answer.status_code == 200
    assert "Sign in" in answer.text


def test_a_monitor_is_answered_without_signing_in(client, db):
    assert client.get("/healthz").text == "ok"
