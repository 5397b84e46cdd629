import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from inventory.models import Heat, JournalEntry, MillDocument, Reel
from tests import factories as given
from tests.words import words_of

ADDRESS = "/reels/receive/"


def typed(**changed):
    """A reel of one new heat, as a person types it."""
    return {
        "designation": "12 7x7 1770 B",
        "mill": given.given_mill().code,
        "mill_reel_number": "MR-77",
        "length_mm": "1000",
        "declared_force_n": "84.6",
        "declared_mass_g_per_100m": "55.2",
        "lay_length_um": "3 in",
        "form": "original",
        "heat-TOTAL_FORMS": "1",
        "heat-INITIAL_FORMS": "0",
        "heat-0-number": "40077",
        "heat-0-steel_name": "C78D",
        "heat-0-analysis": "C 0.78\nSi 0,21\nMn: 0.62 %",
    } | changed


def new_document(**changed):
    return {
        "number": "MD-9",
        "kind": "3.1",
        "issued_date": "2026-01-15",
        "validated_by": "Head of inspection",
        "file": SimpleUploadedFile("md9.pdf", given.pdf_bytes("MD-9")),
    } | changed


def test_a_reel_is_received_with_its_new_heat(as_stores):
    answer = as_stores.post(ADDRESS, typed())
    reel = Reel.objects.get()
    check = reel.receiving_checks.get()
    assert answer["Location"] == reverse("certs:receiving_check", args=[check.code])
    assert (reel.designation, reel.length_mm) == ("12 6x7-WSC 1770 B sZ", 1_000_000)
    assert (reel.declared_force_n, reel.declared_mass_g_per_100m) == (84_600, 55_200)
    assert (reel.lay_length_um, reel.as_given) == (76_200, {"lay_length_um": "3 in"})
    page = as_stores.get(reverse("inventory:reel", args=[reel.code]))
    assert "76.2 mm (3 in)" in words_of(page.text)
    assert reel.assumed_parts == ["core", "lay"]
    heat = reel.heat_ties.get().heat
    assert (heat.number, heat.steel_name) == ("40077", "C78D")
    assert heat.analysis == {"C": "0.78", "Si": "0.21", "Mn": "0.62"}


def test_a_heat_on_record_needs_its_number_only(as_stores):
    heat = given.given_heat(number="40077")
    as_stores.post(ADDRESS, typed(**{"heat-0-steel_name": "", "heat-0-analysis": ""}))
    assert Reel.objects.get().heat_ties.get().heat == heat


def test_a_heat_may_be_in_a_stretch_of_the_reel(as_stores):
    as_stores.post(ADDRESS, typed(**{"heat-0-from_mm": "100", "heat-0-to_mm": "400 m"}))
    tie = Reel.objects.get().heat_ties.get()
    assert (tie.from_mm, tie.to_mm) == (100_000, 400_000)


def test_a_new_document_is_filed_with_the_reel(as_stores, file_store):
    as_stores.post(ADDRESS, typed(**new_document()))
    document = Reel.objects.get().mill_document
    assert (document.number, document.kind) == ("MD-9", "3.1")
    assert document.file.media_type == "application/pdf"


@pytest.mark.parametrize("named", ["MD-1", "D-00001", "d-00001"])
def test_a_document_on_file_is_named_by_number_or_code(named, as_stores):
    document = given.given_mill_document(number="MD-1")
    as_stores.post(ADDRESS, typed(document_on_file=named))
    assert Reel.objects.get().mill_document == document


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        pytest.param({"designation": "12 rope"}, "“ROPE”", id="no designation"),
        pytest.param({"length_mm": "1,000"}, "can be read in two ways", id="ambiguous length"),
        pytest.param({"heat-0-steel_name": ""}, "name its steel as well", id="unknown heat"),
        pytest.param({"heat-0-to_mm": "400"}, "both ends of the stretch", id="half a stretch"),
        pytest.param({"heat-0-analysis": "Xx 3"}, "no element", id="no element"),
        pytest.param({"heat-0-analysis": "much C"}, "was not understood", id="no figure"),
        pytest.param({"document_on_file": "MD-5"}, "has no document", id="unknown document"),
        pytest.param({"number": "MD-5"}, "Choose the scan", id="document without scan"),
        pytest.param({"lay_length_um": "0.075"}, "no lay length", id="lay in metres"),
        pytest.param(
            {"heat-0-number": ""}, "Enter “Heat number”; it cannot be left empty.", id="no heat"
        ),
    ],
)
def test_what_cannot_be_received_is_refused_and_stays_typed(changed, words, as_stores):
    answer = as_stores.post(ADDRESS, typed(mill_reel_number="kept as typed", **changed))
    assert answer.status_code == 200
    assert words in answer.text
    assert "kept as typed" in answer.text
    assert not Reel.objects.exists()
    assert not Heat.objects.exists()


def test_nothing_is_left_of_a_reel_that_is_refused_after_its_papers(as_stores, file_store):
    entries = JournalEntry.objects.count()
    mill = given.given_mill()
    before = JournalEntry.objects.count()
    changed = {"heat-0-from_mm": "900", "heat-0-to_mm": "1100", "mill": mill.code}
    answer = as_stores.post(ADDRESS, typed(**new_document(), **changed))
    assert "past the end of the reel" in answer.text
    assert not MillDocument.objects.exists()
    assert not Heat.objects.exists()
    assert JournalEntry.objects.count() == before > entries


def test_a_heat_on_record_with_another_analysis_is_refused(as_stores):
    given.given_heat(number="40077", analysis={"C": "0.72"})
    assert "another steel or analysis" in as_stores.post(ADDRESS, typed()).text


def test_the_designation_is_read_back_without_recording_anything(as_stores):
    answer = as_stores.post(ADDRESS, typed(again="read-back"))
    assert "right ordinary lay" in answer.text
    assert "not stated; assumed" in answer.text
    assert "error-summary" not in answer.text
    assert not Reel.objects.exists()


def test_a_designation_that_is_not_understood_is_said_to_be_so(as_stores):
    answer = as_stores.post(ADDRESS, {"designation": "12 6x7 1770", "again": "read-back"})
    assert "The core of 6x7 is missing" in answer.text


def test_one_more_heat_may_be_typed(as_stores):
    answer = as_stores.post(ADDRESS, typed(again="more-heat"))
    assert "heat-1-number" in answer.text
    assert 'value="40077"' in answer.text
    assert not Reel.objects.exists()
