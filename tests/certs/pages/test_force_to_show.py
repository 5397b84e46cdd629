"""What the machine must show: asked before a test, told beside it. Forces worked by hand."""

import pytest
from django.urls import reverse

from certs.models import ProofTest
from inventory.services.assemble import PieceAsked, TerminationAsked, build_assembly
from tests.certs.claims import given_proof_test
from tests.certs.pages.test_recording_tests import proof
from tests.factories import MOMENT, given_machine, given_person, given_piece

pytestmark = pytest.mark.usefixtures("tables")


def asked(client, **query):
    body = {"machine": given_machine().code, "required_n": "40"} | query
    return client.get(reverse("certs:force_to_show"), body).text


def test_the_bounds_are_told_with_their_derivation(as_auditor):
    # Class 1, q = 1 % (ISO 7500-1, read): 40 000 x 1.01 and 50 000 x 0.99.
    text = asked(as_auditor, ceiling_n="50")
    assert "Show at least 40400 N and at most 49500 N." in text
    assert "F = 40000 × (1 + 1 / 100)" in text
    assert "ISO 7500-1" in text


def test_a_conflict_shows_both_bounds_and_what_would_serve(as_auditor):
    text = asked(as_auditor, ceiling_n="40.5")
    assert "at least 40400 N is needed, at most 40095 N allowed" in text
    assert "A machine of class 0.5 or better would serve." in text


def test_a_machine_without_a_calibration_is_told_of(as_auditor):
    text = asked(as_auditor, machine=given_machine(is_calibrated=False).code)
    assert "would support no certificate" in text


def test_a_hand_splice_brings_its_own_limit(as_auditor):
    ends = [TerminationAsked(end, "hand_splice", [], operator="A") for end in ("near", "far")]
    sling = build_assembly(
        kind="one_leg", pieces=[PieceAsked(given_piece(), ends)], by=given_person(), at=MOMENT
    )
    # Its rope has no basis yet, so it has no rating to take 1.25 times of.
    assert "Rate the item first" in asked(as_auditor, assembly=sling.code)


@pytest.mark.parametrize(
    ("query", "words"),
    [
        pytest.param({"required_n": "bananas"}, "is not a force", id="no force"),
        pytest.param({"assembly": "A-99999"}, "error-summary", id="no such assembly"),
        pytest.param({"machine": "X-9"}, "error-summary", id="no such machine"),
    ],
)
def test_a_question_that_cannot_be_read_says_so_at_its_field(as_auditor, query, words):
    assert words in asked(as_auditor, **query)


def test_the_answer_leads_on_to_recording_for_whoever_may(as_bench, as_auditor):
    assert reverse("certs:record_proof") in asked(as_bench)
    assert reverse("certs:record_proof") not in asked(as_auditor)


def test_the_form_leads_here(as_bench):
    assert reverse("certs:force_to_show") in as_bench.get(reverse("certs:record_proof")).text


def test_a_test_tells_what_its_machine_had_to_show(as_auditor):
    test = given_proof_test()
    text = as_auditor.get(reverse("certs:proof_test", args=[test.code])).text
    assert "Show at least 40400 N." in text
    assert "not measured" in text


def test_gauge_lengths_are_typed_in_millimetres_with_decimals(as_bench):
    typed = proof(gauge_before_um="1000.0", gauge_after_um="1002,5 mm", extension_limit_pct="0.5")
    text = as_bench.post(reverse("certs:record_proof"), typed, follow=True).text
    test = ProofTest.objects.get()
    assert (test.gauge_before_um, test.gauge_after_um) == (1_000_000, 1_002_500)
    # 2.5 mm of 1000 mm.
    assert "0.25 %, within the limit of 0.5 %" in text
    assert "e = 100 × (1002.5 - 1000) / 1000" in text


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        pytest.param({"gauge_before_um": "1000"}, "both before and after", id="half of it"),
        pytest.param({"gauge_before_um": "long"}, "not a length", id="no length"),
    ],
)
def test_a_gauge_length_that_cannot_be_is_refused_and_kept(as_bench, typed, words):
    text = as_bench.post(reverse("certs:record_proof"), proof(**typed)).text
    assert words in text
    assert f'value="{typed["gauge_before_um"]}"' in text
    assert not ProofTest.objects.exists()


def test_without_any_class_nothing_is_claimed(as_auditor, monkeypatch):
    monkeypatch.setattr("certs.queries.machine_support.machine_class_rows", list)
    text = asked(as_auditor, machine=given_machine(is_calibrated=False).code)
    assert "No class of testing machine is held here" in text
