"""The life of a certificate over the API, and the register of those who validate."""

import hashlib

import pytest

from certs.models import Certificate
from tests.api import get, post
from tests.certs.claims import given_breaking_test, given_proof_test
from tests.certs.papers import (
    given_certifiable_assembly,
    given_certifiable_piece,
    given_cut_length_draft,
    given_documented_reel,
    given_representative,
    issued,
)
from tests.factories import given_customer, given_piece, given_sample

pytestmark = pytest.mark.usefixtures("tables")


def draft(client, **changes):
    body = {
        "pieces": [given_certifiable_piece().code],
        "document_kind": "statement",
        "customer": given_customer().code,
    }
    return post(client, "certificates/cut-length/", body | changes)


def test_a_draft_is_issued_and_what_it_says_is_frozen(qa):
    made = draft(qa)
    assert (made["state"], made["number"]) == ("draft", None)
    done = post(qa, f"certificates/{made['draft_code']}/issue/")
    assert done["state"] == "issued"
    snapshot = qa.get(f"/api/certificates/{done['number']}/json/")
    assert hashlib.sha256(snapshot.content).hexdigest() == done["snapshot_sha256"]
    pdf = qa.get(f"/api/certificates/{done['number']}/pdf/")
    assert pdf["Content-Type"] == "application/pdf"
    assert hashlib.sha256(pdf.content).hexdigest() == done["pdf_sha256"]


def test_number_and_draft_code_name_the_same_paper(qa):
    certificate = issued(given_cut_length_draft())
    by_number = get(qa, f"certificates/{certificate.number}/")
    assert get(qa, f"certificates/{certificate.draft_code}/") == by_number


@pytest.mark.parametrize("part", ["pdf", "json"])
def test_a_draft_has_no_paper_yet(qa, part):
    made = draft(qa)
    assert qa.get(f"/api/certificates/{made['draft_code']}/{part}/").status_code == 404


def test_the_checklist_says_what_is_missing_and_the_draft_is_not_issued(qa):
    made = draft(qa, pieces=[given_piece().code])
    items = get(qa, f"certificates/{made['draft_code']}/checklist/")
    missing = [item["name"] for item in items if not item["is_met"]]
    assert "Breaking force" in missing
    answer = qa.post(f"/api/certificates/{made['draft_code']}/issue/")
    assert answer.status_code == 409
    assert "Breaking force" in answer.json()["problem"]


def test_an_assembly_is_certified_with_its_representative(qa, admin):
    assembly = given_certifiable_assembly()
    given_proof_test(assembly=assembly)
    person = given_representative().person.username
    entry = get(qa, "representatives/")["results"][0]
    assert entry["person"] == person
    body = {
        "assembly": assembly.code,
        "document_kind": "3.1",
        "customer": given_customer().code,
        "first_validator": entry["name"],
    }
    made = post(qa, "certificates/assembly/", body)
    assert made["first_validator"] == entry["name"]
    assert post(qa, f"certificates/{made['draft_code']}/issue/")["document_kind"] == "3.1"


def test_a_breaking_test_is_reported(qa):
    sample = given_sample(reel=given_documented_reel())
    test = given_breaking_test(sample=sample, peak_n=110_000)
    body = {"breaking_test": test.code, "document_kind": "laboratory"}
    made = post(qa, "certificates/breaking/", body)
    assert (made["kind"], made["breaking_test"]) == ("breaking", test.code)


def test_a_correction_starts_from_the_old_wording_and_takes_its_place(qa):
    old = issued(given_cut_length_draft(remarks="first"))
    made = post(qa, f"certificates/{old.number}/supersede/", {"reason": "wrong reference"})
    assert (made["remarks"], made["replaces"]) == ("first", old.number)
    new = post(qa, f"certificates/{made['draft_code']}/issue/")
    found = get(qa, f"certificates/{old.number}/")
    assert (found["state"], found["replaced_by"]) == ("superseded", new["number"])


def test_a_correction_changes_what_it_is_told_to(qa):
    old = issued(given_cut_length_draft(remarks="first"))
    body = {"reason": "wrong reference", "customer_reference": "PO-78"}
    made = post(qa, f"certificates/{old.number}/supersede/", body)
    assert (made["customer_reference"], made["remarks"]) == ("PO-78", "first")


def test_a_withdrawn_certificate_stays_readable_and_says_so(qa):
    old = issued(given_cut_length_draft())
    post(qa, f"certificates/{old.number}/withdraw/", {"reason": "wrong rope"})
    found = get(qa, f"certificates/{old.number}/")
    assert (found["state"], found["end_reason"]) == ("withdrawn", "wrong rope")
    assert qa.get(f"/api/certificates/{old.number}/pdf/").status_code == 200


def test_a_draft_is_thrown_away_and_an_issued_one_is_not(qa):
    made = draft(qa)
    assert qa.delete(f"/api/certificates/{made['draft_code']}/").status_code == 204
    old = issued(given_cut_length_draft())
    assert qa.delete(f"/api/certificates/{old.number}/").status_code == 409
    assert [row.number for row in Certificate.objects.all()] == [old.number]


def test_certificates_are_listed_by_state(qa):
    made = draft(qa)
    issued(given_cut_length_draft())
    found = get(qa, "certificates/", state="draft")["results"]
    assert [row["draft_code"] for row in found] == [made["draft_code"]]


@pytest.mark.parametrize(
    "name", ["nobody:manufacturer:2020-01-01", "x", "a:b:2020-13-45", "", 7, None]
)
def test_only_an_entry_of_the_register_validates(qa, name):
    body = {"pieces": [given_certifiable_piece().code], "document_kind": "statement"}
    answer = qa.post(
        "/api/certificates/cut-length/", body | {"first_validator": name}, format="json"
    )
    assert answer.status_code == (201 if name is None else 400)


def test_a_representative_is_put_on_the_register(admin, representative):
    body = {
        "person": representative.username,
        "capacity": "manufacturer",
        "organisation": "Invented Stockist",
        "is_independent": True,
        "valid_from_date": "2020-01-01",
    }
    made = post(admin, "representatives/", body)
    assert made["name"] == f"{representative.username}:manufacturer:2020-01-01"


def test_a_representative_who_depends_on_the_makers_is_refused(admin, representative):
    body = {
        "person": representative.username,
        "capacity": "manufacturer",
        "organisation": "Invented Stockist",
        "is_independent": False,
        "valid_from_date": "2020-01-01",
    }
    answer = admin.post("/api/representatives/", body, format="json")
    # EN 10204:2004, 4.1: independent of the department that manufactures.
    assert (answer.status_code, answer.json()["field"]) == (400, "is_independent")
