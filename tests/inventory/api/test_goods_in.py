"""What comes in, over the API: parties, heats, documents, reels, fittings, orders."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from inventory.models import JournalEntry, Reel
from inventory.queries.kept_files import read_file
from tests.api import get, post
from tests.factories import (
    ROPE,
    given_customer,
    given_fitting_maker,
    given_heat,
    given_mill,
    given_mill_document,
    given_reel,
    pdf_bytes,
)


def reel_body(**changes):
    heat = given_heat()
    body = {
        "designation": ROPE,
        "mill": heat.mill.code,
        "mill_reel_number": "MR-7",
        "length_mm": 1_000_000,
        "heats": [{"heat": heat.code}],
        "location": "Bay 3",
    }
    return body | changes


def document_body(**changes):
    scan = SimpleUploadedFile("scan.pdf", pdf_bytes("over the API"), "application/pdf")
    body = {
        "mill": given_mill().code,
        "number": "D 7",
        "kind": "3.1",
        "form": "original",
        "issued_date": "2020-05-06",
        "file": scan,
    }
    return body | changes


def test_a_party_gets_a_code(qa):
    made = post(qa, "parties/", {"kind": "customer", "name": "Invented Yard"})
    assert get(qa, f"parties/{made['code']}/")["name"] == "Invented Yard"


def test_a_party_of_the_same_name_is_refused(qa):
    post(qa, "parties/", {"kind": "mill", "name": "Twice Mill"})
    answer = qa.post("/api/parties/", {"kind": "mill", "name": "Twice Mill"}, format="json")
    assert answer.status_code == 409
    assert answer.json() == {
        "problem": "A party of this kind and name is registered already.",
        "field": "",
    }


def test_the_list_of_parties_is_narrowed_by_kind(qa):
    given_mill()
    customer = given_customer()
    found = get(qa, "parties/", kind="customer")
    assert [row["code"] for row in found["results"]] == [customer.code]


def test_a_heat_keeps_the_figures_as_printed(qa):
    body = {"mill": given_mill().code, "number": "77", "steel_name": "C78D"}
    made = post(qa, "heats/", body | {"analysis": {"C": "0.780"}})
    assert made["analysis"] == {"C": "0.780"}
    found = get(qa, "heats/", mill=made["mill"], number="7")
    assert [row["code"] for row in found["results"]] == [made["code"]]


def test_a_heat_of_a_party_that_is_not_there_is_a_fault_of_that_input(qa):
    body = {"mill": "M-99999", "number": "77", "steel_name": "C78D"}
    answer = qa.post("/api/heats/", body, format="json")
    assert answer.status_code == 400
    assert list(answer.json()) == ["mill"]


def test_a_document_is_filed_with_its_scan_and_comes_back_byte_for_byte(qa):
    made = post(qa, "mill-documents/", document_body(), format="multipart")
    answer = qa.get(f"/api/mill-documents/{made['code']}/file/")
    assert answer.content == pdf_bytes("over the API")
    assert answer["Content-Type"] == "application/pdf"


def test_a_document_that_is_no_scan_is_refused_by_its_content(qa):
    text = SimpleUploadedFile("scan.pdf", b"not a scan at all", "application/pdf")
    answer = qa.post("/api/mill-documents/", document_body(file=text), format="multipart")
    assert answer.status_code in {400, 409}
    assert answer.json()["problem"]


def test_a_scan_that_was_altered_in_the_store_is_not_handed_out(qa, file_store):
    document = given_mill_document()
    path = file_store / document.file.path
    path.chmod(0o600)
    path.write_bytes(read_file(document.file) + b"x")
    answer = qa.get(f"/api/mill-documents/{document.code}/file/")
    assert answer.status_code == 409
    assert "SHA-256" in answer.json()["problem"]


def test_a_reel_is_received_with_its_heats(stores):
    made = post(stores, "reels/", reel_body(lay_length_um=75_500))
    assert made["designation"] == ROPE
    assert made["lay_length_um"] == 75_500
    assert made["length_mm"] == 1_000_000
    assert len(made["heats"]) == 1
    assert made.pop("check")["reel"] == made["code"]
    assert get(stores, f"reels/{made['code']}/") == made


def test_a_reel_without_a_heat_is_not_received(stores):
    answer = stores.post("/api/reels/", reel_body(heats=[]), format="json")
    assert answer.status_code == 400
    assert list(answer.json()) == ["heats"]
    assert not Reel.objects.exists()


def test_a_designation_that_is_not_understood_says_so(stores):
    answer = stores.post("/api/reels/", reel_body(designation="thick rope"), format="json")
    assert answer.status_code == 400
    assert answer.json()["field"]


def test_a_reel_is_moved(stores):
    reel = given_reel()
    assert post(stores, f"reels/{reel.code}/move/", {"location": "Yard"})["location"] == "Yard"


def test_fittings_are_received_in_a_lot(stores):
    body = {
        "kind": "ferrule",
        "maker": given_fitting_maker().code,
        "maker_lot_number": "L 9",
        "description": "turn-back ferrule",
        "for_diameter": "12",
        "quantity": 40,
    }
    made = post(stores, "fitting-lots/", body)
    # 12 mm are 12 000 000 nm.
    assert (made["for_diameter_nm"], made["quantity"]) == (12_000_000, 40)


def test_an_order_has_its_lines(stores):
    line = {"designation": ROPE, "length_mm": 50_000, "quantity": 2, "document_kind": "3.1"}
    made = post(stores, "orders/", {"customer": given_customer().code, "lines": [line]})
    assert [row["position"] for row in made["lines"]] == [1]
    assert made["lines"][0] | line == made["lines"][0]


def test_an_act_is_written_in_the_journal_under_the_name_of_who_holds_the_token(stores):
    made = post(stores, "reels/", reel_body())
    check, entry = JournalEntry.objects.order_by("-number")[:2]
    assert (entry.act, entry.subject) == ("receive_reel", made["code"])
    assert (check.act, check.subject) == ("check_reel", made["check"]["code"])
    assert {entry.by.username, check.by.username} == {"stores"}


@pytest.mark.parametrize("length", [-1, 0, 10**12, "long", None, 1.5])
def test_a_length_that_cannot_be_is_refused(stores, length):
    answer = stores.post("/api/reels/", reel_body(length_mm=length), format="json")
    assert answer.status_code == 400
    assert not Reel.objects.exists()
