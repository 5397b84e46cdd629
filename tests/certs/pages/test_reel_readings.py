import pytest
from django.urls import reverse

from certs.models import ReelReading
from tests.certs.claims import given_basis, given_factor
from tests.factories import given_order, given_piece, given_reel

WEIGHED = {"kind": "mass", "gross_g": "537 kg", "tare_g": "40"}
WOUND = {"kind": "drum", "barrel_mm": "300", "traverse_mm": "40 cm", "wound_mm": "600"}


@pytest.fixture
def reel(tables):
    reel = given_reel(designation="12 6x7-FC 1770 B sZ")
    given_basis(reel, given_factor("6x7", "FC"))
    return reel


def page_of(reel):
    return reverse("certs:read_reel", args=[reel.code])


def test_nothing_read_yet_teaches_what_it_is_for(as_auditor, reel):
    text = as_auditor.get(page_of(reel)).text
    assert "Nobody has read this reel yet" in text
    assert "1000.000 m" in text
    assert "Record a reading" not in text


def test_a_weighing_is_recorded_and_worked_out(as_quality, reel):
    answer = as_quality.post(page_of(reel), WEIGHED, follow=True)
    assert "Reading RR-00001 is recorded." in answer.text
    assert "agrees" in answer.text
    # 49.7 kg per 100 m (API Spec 9A, Table C.1): 497 kg are 1000 m.
    assert "L = 100 × (537 - 40) / 49.7" in answer.text


def test_a_winding_is_recorded_and_worked_out(as_quality, reel):
    answer = as_quality.post(page_of(reel), WOUND, follow=True)
    assert "Length by drum, square packing" in answer.text
    assert "Length by drum, hexagonal packing" in answer.text
    assert ReelReading.objects.get().traverse_mm == 400


def test_a_disagreement_is_told_in_metres_and_per_cent(as_quality, reel):
    text = as_quality.post(page_of(reel), WEIGHED | {"gross_g": "437"}, follow=True).text
    assert "does not agree" in text
    assert "201.207 m" in text


def test_what_is_missing_is_said_at_its_field(as_quality, reel):
    answer = as_quality.post(page_of(reel), WEIGHED | {"tare_g": ""})
    assert "Give the mass of the empty reel." in answer.text
    assert not ReelReading.objects.exists()


def test_a_form_sent_twice_acts_once(as_quality, reel):
    for _ in range(2):
        as_quality.post(page_of(reel), WEIGHED | {"once": "t" * 43})
    assert ReelReading.objects.count() == 1


def test_an_auditor_records_nothing(as_auditor, reel):
    as_auditor.post(page_of(reel), WEIGHED)
    assert not ReelReading.objects.exists()


def test_without_a_basis_the_gap_is_said(as_quality, tables):
    answer = as_quality.post(page_of(given_reel()), WEIGHED, follow=True)
    assert "No basis of strength is named" in answer.text
    assert "cannot say" in answer.text


def test_the_page_of_the_reel_leads_there(as_auditor, reel):
    text = as_auditor.get(reverse("inventory:reel", args=[reel.code])).text
    assert f'href="{page_of(reel)}"' in text


def test_the_page_of_an_order_says_what_it_weighs(as_auditor, tables):
    order = given_order()
    text = as_auditor.get(reverse("inventory:order", args=[order.code])).text
    assert "Weight of the order" in text
    assert "without reels, fittings and packing" in text


def test_the_page_of_a_piece_says_what_it_weighs(as_auditor, reel):
    piece = given_piece(reel=reel, length_m=10)
    assert "4.97 kg" in as_auditor.get(reverse("inventory:piece", args=[piece.code])).text
