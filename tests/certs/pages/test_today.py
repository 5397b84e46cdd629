from django.urls import reverse

from tests.certs.claims import given_breaking_test
from tests.certs.papers import given_cut_length_draft, given_documented_reel
from tests.factories import given_hold, given_machine, given_piece, given_reel, given_sample


def today(client):
    return client.get(reverse("certs:today")).text


def test_a_draft_is_ready_or_lacks_something(as_quality, tables):
    given_cut_length_draft()
    given_cut_length_draft(given_piece(reel=given_reel()))
    text = today(as_quality)
    assert "ready to issue" in text
    assert "lacks something" in text


def test_what_is_in_doubt_is_told(as_quality, tables):
    reel = given_documented_reel()
    given_breaking_test(sample=given_sample(reel=reel), peak_n=70_000)
    given_hold(reel)
    text = today(as_quality)
    assert "broken wires seen" in text
    assert "70 kN where 98.9 kN was required" in text


def test_reels_without_a_basis_and_machines_to_calibrate_wait(as_quality, db):
    given_reel()
    given_machine(name="Old bench", is_calibrated=False)
    text = today(as_quality)
    assert "no basis" in text
    assert "never calibrated" in text


def test_an_auditor_is_offered_no_act(as_auditor, db):
    assert "Receive a reel" not in today(as_auditor)
