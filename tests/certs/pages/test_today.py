from django.urls import reverse

from certs.queries.receiving import Measured
from certs.services.check_reel import check_reel
from inventory.services.holds import release_hold
from tests.certs.claims import given_breaking_test
from tests.certs.papers import given_cut_length_draft, given_documented_reel
from tests.factories import (
    MOMENT,
    given_hold,
    given_machine,
    given_person,
    given_piece,
    given_reel,
    given_sample,
)
from tests.words import words_of


def today(client):
    return client.get(reverse("certs:today")).text


def words(client):
    """What is read on the page, without its markup."""
    return words_of(today(client))


def given_reel_in_doubt():
    """A reel of a zinc class that its designation does not have."""
    reel = given_reel()
    check = check_reel(reel=reel, measured=Measured(zinc_class="A"), by=given_person(), at=MOMENT)
    return reel, check


def test_a_draft_is_ready_or_lacks_something(as_quality, tables):
    given_cut_length_draft()
    given_cut_length_draft(given_piece(reel=given_reel()))
    said = words(as_quality)
    assert "Certificates ready to issue 1 Issue all that are ready ready to issue" in said
    assert "Drafts that lack something 1 lacks something" in said


def test_drafts_that_nobody_looked_over_are_not_said_to_be_none(as_quality, tables, monkeypatch):
    monkeypatch.setattr("certs.queries.waiting.LOOKED_OVER", 1)
    given_cut_length_draft()
    given_cut_length_draft()
    said = words(as_quality)
    assert "Certificates ready to issue at least 1" in said
    assert "Only the oldest drafts are looked over here; 1 newer is not." in said
    assert "drafts that lack something" not in said


def test_more_ready_drafts_than_are_shown_are_counted(as_quality, tables, monkeypatch):
    monkeypatch.setattr("certs.pages.waiting_list.SHOWN", 1)
    given_cut_length_draft()
    given_cut_length_draft()
    assert "Certificates ready to issue 2 " in words(as_quality)


def test_what_is_in_doubt_is_told(as_quality, tables):
    reel = given_documented_reel()
    given_breaking_test(sample=given_sample(reel=reel), peak_n=70_000)
    given_hold(reel)
    said = words(as_quality)
    assert "broken wires seen" in said
    assert "70 kN where 98.9 kN was required" in said


def test_reels_to_accept_and_machines_to_calibrate_wait(as_quality, db):
    given_reel()
    given_machine(name="Old bench", is_calibrated=False)
    said = words(as_quality)
    assert "Reels to accept 1 not checked" in said
    assert "No basis of its strength is named either." in said
    assert "never calibrated" in said


def test_a_reel_that_does_not_agree_waits_once_until_someone_decided(as_quality, tables):
    _, check = given_reel_in_doubt()
    said = words(as_quality)
    assert f"does not agree R-00001: 12 6x7-WSC 1770 B sZ Check {check.code}" in said
    assert "Under hold" not in said
    release_hold(hold=check.hold, reason="taken as class A", by=given_person(), at=MOMENT)
    assert "does not agree" not in words(as_quality)


def test_the_hold_of_a_former_check_waits_as_a_hold(as_quality, tables):
    reel, _ = given_reel_in_doubt()
    check_reel(reel=reel, measured=Measured(zinc_class="B"), by=given_person(), at=MOMENT)
    said = words(as_quality)
    assert "does not agree R-00001" not in said
    assert "Under hold 1" in said


def test_what_does_not_wait_is_only_named(as_quality, db):
    given_reel()
    said = words(as_quality)
    assert "Nothing else waits: no reports from site, recall letters without an answer," in said
    assert "<h2" not in today(as_quality).split("nothing-else")[1]


def test_a_new_house_is_taught_its_first_steps(as_quality, db):
    assert "Nothing is on record yet" in words(as_quality)
    given_reel()
    assert "Nothing is on record yet" not in words(as_quality)


def test_a_code_stays_in_one_line(as_quality, db):
    given_reel()
    kept = '<span class="whole">R-00001</span>: <span class="whole">12 6x7-WSC</span>'
    assert kept in today(as_quality)


def test_the_number_of_questions_does_not_grow_with_the_reels(
    as_quality, db, django_assert_max_num_queries
):
    today(as_quality)
    given_reel()
    with django_assert_max_num_queries(60) as one:
        today(as_quality)
    for _ in range(3):
        given_reel()
    with django_assert_max_num_queries(len(one)):
        today(as_quality)


def test_an_auditor_is_offered_no_act(as_auditor, db):
    assert reverse("certs:receive_reel") not in today(as_auditor)
