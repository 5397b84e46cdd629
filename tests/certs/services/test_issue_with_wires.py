"""Issuing a paper and recording or reversing a wire test at the same moment: one sees the other."""

import json

import pytest

from certs import models
from certs.models import WireTest
from certs.queries.evidence import reversal_of
from certs.services import issue as issue_module
from certs.services import reverse_test as reverse_module
from certs.services.issue import CannotIssue, issue_certificate
from certs.services.reverse_test import CannotReverseTest, reverse_test
from tests.certs.papers import given_certifiable_piece, given_cut_length_draft, issued
from tests.certs.wires import given_wire_test, wires_of_7x7
from tests.factories import MOMENT, given_person

pytestmark = pytest.mark.usefixtures("tables")


@pytest.fixture
def piece():
    return given_certifiable_piece()


def meanwhile(monkeypatch, module, do, *, times=1):
    """Let `do` get the journal's head before the act does, so many times."""
    append, left = module.append, [times]

    def after_it(**entry):
        if left[0]:
            left[0] -= 1
            do()
        return append(**entry)

    monkeypatch.setattr(module, "append", after_it)


def test_a_paper_freezes_the_wire_tests_of_its_rope(piece):
    test = given_wire_test(reel=piece.reel)
    rope = json.loads(issued(given_cut_length_draft(piece)).snapshot)["ropes"][0]
    assert rope["wire_tests"]["tests"][0]["code"] == test.code
    assert rope["grade"]["standing"] == "supported"


def test_a_force_that_falls_short_stops_the_issuing(piece):
    given_wire_test(reel=piece.reel, wires=wires_of_7x7(1500))
    with pytest.raises(CannotIssue, match="Wire test: R-00001: Break a sample"):
        issued(given_cut_length_draft(piece))


def test_a_paper_overtaken_by_a_wire_test_is_made_anew(monkeypatch, piece):
    draft = given_cut_length_draft(piece)
    meanwhile(monkeypatch, issue_module, lambda: given_wire_test(reel=piece.reel))
    # The test is of the same transaction here and undone with it, so that the second try goes on.
    done = issue_certificate(certificate=draft, by=given_person(), at=MOMENT)
    assert done.state == "issued"
    assert not WireTest.objects.exists()


def test_a_paper_overtaken_by_a_reversal_every_time_is_not_issued(monkeypatch, piece):
    test = given_wire_test(reel=piece.reel)
    draft = given_cut_length_draft(piece)

    def reverse():
        # As another transaction would: it does not see the paper that is being written.
        reversal = {
            "reason": "another sample",
            "reversed_at": MOMENT,
            "reversed_by": given_person(),
        }
        models.TestReversal.objects.create(wire_test=test, **reversal)

    meanwhile(monkeypatch, issue_module, reverse, times=99)
    with pytest.raises(CannotIssue, match="at this very moment"):
        issue_certificate(certificate=draft, by=given_person(), at=MOMENT)
    assert reversal_of(WireTest.objects.get()) is None


def test_a_reversal_overtaken_by_a_paper_is_refused(monkeypatch, piece):
    test = given_wire_test(reel=piece.reel)
    paper = issued(given_cut_length_draft(piece))
    # The first look comes before the paper, the second once the journal's head is held.
    looks = iter([lambda _test: None, reverse_module._check_unused])  # noqa: SLF001 -- looked at

    def look(found):
        next(looks)(found)

    monkeypatch.setattr(reverse_module, "_check_unused", look)
    with pytest.raises(CannotReverseTest, match=f"{paper.number} rests on {test.code}"):
        reverse_test(test=test, reason="another sample", by=given_person(), at=MOMENT)
    assert reversal_of(WireTest.objects.get()) is None
