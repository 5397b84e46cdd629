import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from inventory.models import Calibration, Heat, MillDocument, Party, Person, TestingMachine
from inventory.rules.roles import Role
from tests import factories as given


def at(name, thing):
    return reverse(f"inventory:{name}", args=[thing.code])


def test_a_heat_is_recorded(as_stores):
    mill = given.given_mill()
    asked = {"mill": mill.code, "number": "40077", "steel_name": "C78D", "analysis": "C 0.780"}
    answer = as_stores.post("/heats/record/", asked)
    heat = Heat.objects.get()
    assert answer["Location"] == at("heat", heat)
    assert heat.analysis == {"C": "0.780"}


def test_a_heat_is_recorded_once(as_stores):
    heat = given.given_heat()
    asked = {"mill": heat.mill.code, "number": heat.number, "steel_name": "kept as typed"}
    answer = as_stores.post("/heats/record/", asked)
    assert "recorded already" in answer.text
    assert "kept as typed" in answer.text


def test_an_element_given_twice_is_refused(as_stores):
    asked = {"mill": given.given_mill().code, "number": "1", "steel_name": "x"}
    answer = as_stores.post("/heats/record/", asked | {"analysis": "C 0.78\nC 0.79"})
    assert "C is given twice" in answer.text


def test_a_party_is_registered(as_quality):
    as_quality.post("/parties/register/", {"kind": "mill", "name": "Invented Mill"})
    assert Party.objects.get().code == "M-00001"


def test_a_party_is_registered_once(as_quality):
    given.given_mill("Invented Mill")
    asked = {"kind": "mill", "name": "Invented Mill", "address": "kept as typed"}
    answer = as_quality.post("/parties/register/", asked)
    assert "registered already" in answer.text
    assert "kept as typed" in answer.text


def document(content):
    return {
        "mill": given.given_mill().code,
        "number": "MD-7",
        "kind": "3.1",
        "form": "original",
        "issued_date": "2026-01-15",
        "content": SimpleUploadedFile("md7.pdf", content),
    }


def test_a_document_is_filed_and_handed_out_as_it_came(as_stores, file_store):
    content = given.pdf_bytes("MD-7")
    as_stores.post("/mill-documents/file/", document(content))
    answer = as_stores.get(at("document_file", MillDocument.objects.get()))
    assert answer.content == content
    assert answer["Content-Disposition"] == 'attachment; filename="md7.pdf"'
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Content-Security-Policy"].startswith("sandbox")


def test_a_file_that_is_no_scan_is_refused(as_stores, file_store):
    answer = as_stores.post("/mill-documents/file/", document(b"MZ not a scan"))
    assert "neither a PDF nor a JPEG nor a PNG" in answer.text
    assert 'value="MD-7"' in answer.text
    assert not MillDocument.objects.exists()


def test_a_scan_that_was_changed_is_not_handed_out(as_stores, file_store):
    filed = given.given_mill_document()
    kept = file_store / filed.file.path
    kept.chmod(0o600)
    kept.write_bytes(b"%PDF-changed")
    answer = as_stores.get(at("document_file", filed), follow=True)
    assert "is not as it was kept" in answer.text


def test_a_machine_is_registered_and_calibrated(as_quality):
    asked = {"name": "50 t bench", "serial_number": "SN 9"}
    as_quality.post("/testing-machines/register/", asked)
    machine = TestingMachine.objects.get()
    answer = as_quality.post(at("record_calibration", machine), calibration())
    recorded = Calibration.objects.get()
    assert answer["Location"] == at("machine", machine)
    assert (recorded.range_from_n, recorded.range_to_n, recorded.resolution_n) == (
        5_000,
        500_000,
        10,
    )


def calibration(**changed):
    return {
        "certificate_number": "CAL-9",
        "laboratory": "Invented Laboratory",
        "calibrated_date": "2026-01-10",
        "due_date": "2027-01-09",
        "machine_class": "1",
        "range_from_n": "5",
        "range_to_n": "500 kN",
        "resolution_n": "10 N",
    } | changed


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        pytest.param({"due_date": "2026-01-01"}, "due after this one", id="due before"),
        pytest.param({"range_to_n": "4"}, "from a smaller to a greater", id="range turned round"),
        pytest.param({"range_to_n": "5 t"}, "may be many things", id="no unit of force"),
    ],
)
def test_a_calibration_that_cannot_be_is_refused(changed, words, as_quality):
    machine = given.given_machine(is_calibrated=False)
    answer = as_quality.post(at("record_calibration", machine), calibration(**changed))
    assert words in answer.text
    assert 'value="CAL-9"' in answer.text
    assert not Calibration.objects.exists()


def test_a_machine_without_calibration_says_so(as_auditor):
    machine = given.given_machine(is_calibrated=False)
    assert "never calibrated" in as_auditor.get(at("machine", machine)).text


def test_a_person_is_registered_and_may_sign_in(as_administrator, client):
    asked = {
        "username": "bench2",
        "full_name": "Second Hand",
        "role": "test_bench",
        "password": "a long pass phrase",
    }
    as_administrator.post("/people/register/", asked)
    person = Person.objects.get(username="bench2")
    assert person.role == Role.TEST_BENCH
    assert client.login(username="bench2", password="a long pass phrase")


def test_a_weak_pass_phrase_is_refused_and_not_shown_again(as_administrator):
    asked = {"username": "bench2", "full_name": "kept as typed", "role": "stores"}
    answer = as_administrator.post("/people/register/", asked | {"password": "sh0rt!"})
    assert "too short" in answer.text
    assert "kept as typed" in answer.text
    assert "sh0rt!" not in answer.text
