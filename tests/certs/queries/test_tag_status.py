"""The answer to a scanned tag is about now, names no customer, and tells no wrong code apart."""

from dataclasses import asdict
from datetime import timedelta

import pytest

from certs.models import Certificate
from certs.queries.tag_status import Standing, tag_answer
from certs.services.drafts import draft_correction, wording_of
from certs.services.tags import issue_tag, new_code, revoke_tag
from certs.services.withdraw import withdraw_certificate
from inventory.rules.tag_code import grouped
from inventory.services.holds import release_hold
from inventory.services.take_back import take_back_piece
from tests.certs.claims import given_breaking_test, given_proof_test
from tests.certs.papers import (
    given_assembly_draft,
    given_certifiable_assembly,
    given_certifiable_piece,
    given_cut_length_draft,
    given_representative,
    issued,
)
from tests.certs.past_the_guards import unguarded
from tests.factories import (
    MOMENT,
    given_delivery,
    given_hold,
    given_machine,
    given_piece,
    given_sample,
)

pytestmark = pytest.mark.usefixtures("tables")


@pytest.fixture
def piece():
    return given_certifiable_piece()


@pytest.fixture
def tag(piece, qa_officer):
    return issue_tag(piece=piece, by=qa_officer, at=MOMENT)


@pytest.fixture
def certificate(piece):
    return issued(given_cut_length_draft(piece))


def test_a_certified_piece_is_good(tag, certificate):
    answer = tag_answer(tag.code)
    assert (answer.standing, answer.reasons) == (Standing.GOOD, ())
    assert [paper.number for paper in answer.papers] == [certificate.number]
    assert [load.value for load in answer.loads] == ["98.9 kN"]


def test_a_code_is_understood_as_a_person_types_it(tag, certificate):
    assert tag_answer(f" {grouped(tag.code).lower()} ").code == tag.code


@pytest.mark.parametrize("text", ["", "hello", "0" * 15 + "1", "7Q4K-9M2Z"])
def test_a_wrong_code_gets_no_answer(text):
    assert tag_answer(text) is None


def test_an_unknown_code_gets_no_answer():
    assert tag_answer(new_code()) is None


def test_a_piece_without_a_paper_says_so(tag):
    answer = tag_answer(tag.code)
    assert answer.standing == Standing.NO_PAPER
    assert answer.loads == ()


def test_a_hold_on_the_reel_reaches_the_tag_on_site(tag, certificate, piece):
    hold = given_hold(piece.reel)
    answer = tag_answer(tag.code)
    assert answer.standing == Standing.DO_NOT_USE
    assert hold.code in answer.reasons[0]
    assert answer.loads == ()


def test_a_hold_on_other_metres_does_not(tag, certificate, piece):
    given_hold(piece.reel, from_mm=500_000, to_mm=600_000)
    assert tag_answer(tag.code).standing == Standing.GOOD


def test_a_released_hold_frees_the_tag(tag, certificate, piece, qa_officer):
    hold = given_hold(piece.reel)
    release_hold(hold=hold, reason="looked over", by=qa_officer, at=MOMENT + timedelta(days=1))
    assert tag_answer(tag.code).standing == Standing.GOOD


def test_a_withdrawn_paper_means_do_not_use(tag, certificate, qa_officer):
    withdraw_certificate(certificate=certificate, reason="wrong rope", by=qa_officer, at=MOMENT)
    answer = tag_answer(tag.code)
    assert answer.standing == Standing.DO_NOT_USE
    assert "wrong rope" in answer.reasons[0]


def test_a_superseded_papers_own_code_names_the_one_that_replaces_it(certificate, qa_officer):
    draft = draft_correction(
        certificate=certificate,
        reason="typing",
        wording=wording_of(certificate),
        by=qa_officer,
        at=MOMENT,
    )
    new = issued(draft)
    answer = tag_answer(certificate.tags.get().code)
    assert answer.standing == Standing.SUPERSEDED
    assert answer.papers[0].replaced_by == new.number


def test_a_corrected_piece_is_good_by_its_new_paper(tag, certificate, qa_officer):
    draft = draft_correction(
        certificate=certificate,
        reason="typing",
        wording=wording_of(certificate),
        by=qa_officer,
        at=MOMENT,
    )
    issued(draft)
    assert tag_answer(tag.code).standing == Standing.GOOD


@pytest.mark.parametrize(
    "changed",
    [
        pytest.param(lambda text: text.replace("98.9", "198.9"), id="a force raised"),
        pytest.param(lambda _: "not JSON at all", id="no JSON any more"),
    ],
)
def test_a_record_changed_past_the_program_means_do_not_use(tag, certificate, changed):
    unguarded("certs_certificate")
    text = changed(certificate.snapshot)
    assert text != certificate.snapshot
    Certificate.objects.filter(pk=certificate.pk).update(snapshot=text)
    answer = tag_answer(tag.code)
    assert answer.standing == Standing.DO_NOT_USE
    assert "not as it was issued" in answer.reasons[0]
    assert answer.loads == ()


def test_a_revoked_tag_says_so(tag, certificate, qa_officer):
    revoke_tag(tag=tag, reason="copied", by=qa_officer, at=MOMENT)
    answer = tag_answer(tag.code)
    assert answer.standing == Standing.DO_NOT_USE
    assert "copied" in answer.reasons[0]


def test_a_failed_test_after_issue_stops_the_use(tag, certificate, piece):
    given_breaking_test(sample=given_sample(reel=piece.reel), peak_n=90_000)
    answer = tag_answer(tag.code)
    assert answer.standing == Standing.DO_NOT_USE
    assert "lowered" in " ".join(answer.reasons)


def test_an_assembly_says_what_it_may_carry(qa_officer):
    assembly = given_certifiable_assembly()
    given_proof_test(assembly=assembly)
    issued(given_assembly_draft(assembly, first_validator=given_representative()))
    tag = issue_tag(assembly=assembly, by=qa_officer, at=MOMENT)
    answer = tag_answer(tag.code)
    assert answer.standing == Standing.GOOD
    assert answer.loads[0].quantity == "working load limit"


def test_a_hold_on_the_testing_machine_reaches_what_was_shown_on_it(qa_officer):
    assembly = given_certifiable_assembly()
    machine = given_machine()
    given_proof_test(assembly=assembly, machine=machine)
    issued(given_assembly_draft(assembly, first_validator=given_representative()))
    tag = issue_tag(assembly=assembly, by=qa_officer, at=MOMENT)
    hold = given_hold(machine)
    answer = tag_answer(tag.code)
    assert answer.standing == Standing.DO_NOT_USE
    assert hold.code in answer.reasons[0]


def test_a_proof_load_that_fails_later_stops_the_use(qa_officer):
    assembly = given_certifiable_assembly()
    given_proof_test(assembly=assembly)
    issued(given_assembly_draft(assembly, first_validator=given_representative()))
    tag = issue_tag(assembly=assembly, by=qa_officer, at=MOMENT)
    later = MOMENT + timedelta(days=90)
    failed = given_proof_test(assembly=assembly, after_is_good=False, tested_at=later)
    answer = tag_answer(tag.code)
    assert answer.standing == Standing.DO_NOT_USE
    assert failed.code in answer.reasons[0]
    assert answer.loads == ()


def test_a_piece_that_came_back_is_good_no_more(tag, certificate, piece, stores_hand):
    given_delivery(piece)
    take_back_piece(piece=piece, is_turned=True, location="", by=stores_hand, at=MOMENT)
    answer = tag_answer(tag.code)
    assert answer.standing == Standing.DO_NOT_USE
    assert "came back" in answer.reasons[0]


def test_a_piece_built_into_an_assembly_answers_for_the_assembly(qa_officer):
    assembly = given_certifiable_assembly()
    piece = assembly.piece_ties.get().piece
    tag = issue_tag(piece=piece, by=qa_officer, at=MOMENT)
    assert assembly.code in tag_answer(tag.code).what


def test_no_customer_is_named(tag, certificate):
    public = {**asdict(tag_answer(tag.code)), "papers": [], "loads": []}
    papers = [(p.title, p.number, p.ended_text) for p in tag_answer(tag.code).papers]
    assert "Invented Customer" not in f"{public}{papers}"


def test_the_number_of_queries_does_not_grow_with_tags(
    tag, certificate, qa_officer, django_assert_num_queries
):
    for _ in range(3):
        issue_tag(piece=given_piece(), by=qa_officer, at=MOMENT)
    with django_assert_num_queries(10):
        tag_answer(tag.code)
