"""Taking back a test that was recorded wrongly: with a reason, once, and never under a paper."""

import pytest

from certs.models import WireTest
from certs.queries.checklist import checklist, lacking
from certs.queries.derivation import certified_force
from certs.queries.evidence import reversal_of, supporting_proof_tests
from certs.queries.rope_tests import tests_on_rope as on_rope
from certs.queries.trace import trace_code
from certs.queries.waiting import waiting
from certs.queries.wire_tests import wire_tests_on
from certs.services.drafts import CannotDraft
from certs.services.issue import CannotIssue
from certs.services.reverse_test import CannotReverseTest, reverse_test
from certs.services.withdraw import withdraw_certificate
from inventory.models import JournalEntry
from inventory.rules.roles import Role
from inventory.services.authority import NotAllowed
from tests.certs.claims import given_basis, given_breaking_test, given_proof_test
from tests.certs.papers import (
    given_assembly_draft,
    given_breaking_draft,
    given_certifiable_assembly,
    given_certifiable_piece,
    given_cut_length_draft,
    given_documented_reel,
    given_representative,
    issued,
)
from tests.certs.wires import given_wire_test
from tests.factories import MOMENT, given_person, given_reel, given_sample

pytestmark = pytest.mark.usefixtures("tables")

TODAY = MOMENT.date()
# 0.388 x 12^2 x 1770 / 1000 (EN 12385-4, 6x7-WSC) is 98.9 kN; these lie above and below.
ENOUGH_N, TOO_LITTLE_N = 99_000, 90_000


def taken_back(test, *, reason="sample of another reel", by=None):
    return reverse_test(test=test, reason=reason, by=by or given_person(), at=MOMENT)


@pytest.fixture
def reel(db):
    reel = given_reel()
    given_basis(reel)
    return reel


@pytest.fixture
def failed(reel):
    return given_breaking_test(sample=given_sample(reel=reel), peak_n=TOO_LITTLE_N)


@pytest.fixture
def proved(db):
    return given_proof_test(assembly=given_certifiable_assembly())


def certificate_on(proved):
    return given_assembly_draft(proved.assembly, first_validator=given_representative())


def test_the_test_stays_readable_and_names_why_it_does_not_count(failed):
    taken_back(failed)
    failed.refresh_from_db()
    found = reversal_of(failed)
    assert (found.reason, found.reversed_at) == ("sample of another reel", MOMENT)
    assert failed.peak_n == TOO_LITTLE_N


def test_it_is_in_the_journal(failed):
    taken_back(failed)
    entry = JournalEntry.objects.latest("number")
    assert (entry.act, entry.subject) == ("reverse_test", failed.code)


def test_a_reversed_failure_lowers_no_force(reel, failed):
    lowered = certified_force(reel)
    taken_back(failed)
    assert (str(lowered.stated), str(certified_force(reel).stated)) == ("90", "98.9")
    assert on_rope(reel) == []


def test_a_reversed_failure_waits_for_nobody(failed):
    before = waiting(on=TODAY).breaking_tests.count
    taken_back(failed)
    assert (before, waiting(on=TODAY).breaking_tests.count) == (1, 0)


def test_the_story_tells_it_as_reversed(reel, failed):
    taken_back(failed)
    (row,) = trace_code(reel.code)["rope_tests"]
    assert (row["code"], row["reversed_at"]) == (failed.code, MOMENT.isoformat())


def test_a_reversed_proof_load_supports_no_certificate(proved):
    draft = certificate_on(proved)
    assert not lacking(checklist(draft, on=TODAY))
    taken_back(proved)
    assert supporting_proof_tests(proved.assembly) == []
    with pytest.raises(CannotIssue, match="Proof-load test"):
        issued(draft)


def test_no_report_is_drafted_of_a_reversed_test(failed):
    taken_back(failed)
    failed.refresh_from_db()
    with pytest.raises(CannotDraft, match="was reversed"):
        given_breaking_draft(failed)


def test_a_report_drafted_before_is_not_issued(failed):
    draft = given_breaking_draft(failed)
    taken_back(failed, reason="typed twice")
    with pytest.raises(CannotIssue, match="was reversed: typed twice"):
        issued(draft)


def test_a_proof_load_under_a_certificate_in_force_stands(proved):
    paper = issued(certificate_on(proved))
    with pytest.raises(CannotReverseTest, match=f"{paper.number} rests on {proved.code}"):
        taken_back(proved)
    withdraw_certificate(certificate=paper, reason="wrong log", by=given_person(), at=MOMENT)
    taken_back(proved)
    proved.refresh_from_db()
    assert reversal_of(proved) is not None


def test_a_test_that_was_reported_stands():
    test = given_breaking_test(sample=given_sample(reel=given_documented_reel()), peak_n=ENOUGH_N)
    paper = issued(given_breaking_draft(test))
    with pytest.raises(CannotReverseTest, match=str(paper.number)):
        taken_back(test)


def test_it_is_reversed_once(failed):
    taken_back(failed)
    with pytest.raises(CannotReverseTest, match="already"):
        taken_back(failed)


def test_a_reason_is_needed(failed):
    with pytest.raises(CannotReverseTest, match="what was wrong"):
        taken_back(failed, reason=" ")
    assert reversal_of(failed) is None


@pytest.mark.parametrize("role", [Role.TEST_BENCH, Role.STORES, Role.AUDITOR])
def test_only_the_qa_officer_may(failed, role):
    with pytest.raises(NotAllowed):
        taken_back(failed, by=given_person(role))


def test_wires_taken_back_count_for_nothing_and_stay_readable(reel):
    test = given_wire_test(reel=reel)
    reversal = taken_back(test, reason="wires of another sample")
    assert reversal_of(WireTest.objects.get()) == reversal
    assert wire_tests_on(reel) == []
    entry = JournalEntry.objects.order_by("number").last()
    assert (entry.act, entry.subject) == ("reverse_test", test.code)


def test_wires_are_taken_back_once(reel):
    test = given_wire_test(reel=reel)
    taken_back(test)
    with pytest.raises(CannotReverseTest, match="is reversed already"):
        taken_back(test)


def test_wires_that_a_paper_in_force_tells_of_are_not_taken_back():
    piece = given_certifiable_piece()
    test, other = given_wire_test(reel=piece.reel), given_wire_test(reel=given_documented_reel())
    paper = issued(given_cut_length_draft(piece))
    with pytest.raises(CannotReverseTest, match=f"{paper.number} rests on {test.code}"):
        taken_back(test)
    taken_back(other)
    withdraw_certificate(certificate=paper, reason="wires", by=given_person(), at=MOMENT)
    taken_back(test)
    assert wire_tests_on(piece.reel) == []
