"""The load marked on a sling, from draft to tag: never above what governs the first band."""

import json

import pytest

from certs.queries.checklist import checklist
from certs.queries.claims import tag_of_certificate
from certs.queries.letterhead import Head
from certs.queries.snapshot import Issuing, build_snapshot
from certs.queries.tag_status import tag_answer
from certs.rules.working_load import MarkedTooHigh
from certs.services.drafts import Wording, draft_assembly, draft_correction, wording_of
from certs.services.issue import CannotIssue, issue_certificate
from tests.certs.claims import given_breaking_test, given_proof_test
from tests.certs.papers import given_documented_reel, issued
from tests.certs.slings import given_sling
from tests.factories import MOMENT, given_person, given_sample

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

# EN 13414-1:2003 Table 4 prints for 12 mm, steel core, grade 1770, ferrule-secured eyes: one leg
# 1.7 t, two legs 2.3 t to 45 degrees and 1.7 t to 60 degrees.
TWO = {"legs": 2, "kind": "two_leg"}


def drafted(marked_kg, *, reel=None, **facts):
    sling = given_sling(reel=reel or given_documented_reel(), **facts)
    given_proof_test(assembly=sling)
    wording = Wording(document_kind="2.2", marked_kg=marked_kg)
    return draft_assembly(assembly=sling, wording=wording, by=given_person(), at=MOMENT)


def told(certificate):
    return json.loads(certificate.snapshot)["assembly"]["marked"]


def loads_on_tag(certificate):
    answer = tag_answer(tag_of_certificate(certificate).code)
    return [(load.quantity, load.value, load.words) for load in answer.loads]


def test_the_mark_is_frozen_with_band_convention_and_derived_load():
    marked = told(issued(drafted(2200, **TWO)))
    assert marked["kg"] == 2200
    assert marked["text"] == (
        "Working load limit marked: 2.2 t, at 0 to 45 degrees from the vertical; derived 2.3 t."
    )
    assert marked["convention_text"] == "EN 13414-1, angles counted from the vertical"


def test_an_american_mark_is_for_the_steepest_band_from_the_horizontal():
    marked = told(issued(drafted(2500, convention="from_horizontal", **TWO)))
    assert marked["legs"] == "two legs, 60 to 90 degrees from the horizontal"
    # 2500 / 0.45359237 = 5511.6, by hand.
    assert "In pounds, rounded down: 5511 lb" in marked["words"]


def test_without_a_mark_nothing_is_said_of_one():
    certificate = issued(drafted(None))
    assert told(certificate) is None
    assert "Marked load" not in [item.name for item in checklist(certificate, on=MOMENT.date())]


def test_a_tag_tells_the_mark_first_and_no_load_above_it():
    (_, value, words), second, *rest = loads_on_tag(issued(drafted(1600, **TWO)))
    assert value == "1.6 t"
    assert words.startswith("At 0 to 45 degrees from the vertical; derived 2.3 t.")
    assert second[1] == "1.6 t"
    assert second[2] == (
        "Two legs, 45 to 60 degrees from the vertical; EN 13414-1, angles counted from the"
        " vertical. Derived 1.7 t; the mark is lower and governs."
    )
    assert [load[1] for load in rest if load[1].endswith(" t")] == []


def test_a_band_below_the_mark_keeps_its_own_load():
    values = [value for _, value, _ in loads_on_tag(issued(drafted(2200, **TWO)))]
    assert values[:2] == ["2.2 t", "1.7 t"]


def test_a_marked_american_tag_says_that_a_figure_is_from_memory():
    marked, *_ = loads_on_tag(issued(drafted(2500, convention="from_horizontal", **TWO)))
    assert "from memory or habit" in marked[2]


def test_rope_that_fell_since_the_draft_stops_the_paper():
    reel = given_documented_reel()
    draft = drafted(1700, reel=reel)
    assert {item.name: item.is_met for item in checklist(draft, on=MOMENT.date())}["Marked load"]
    given_breaking_test(sample=given_sample(reel=reel), peak_n=80_000)
    # 80 x 0.9 / (5 x 9.81) = 1.4678... t, by hand, rounded down.
    item = next(one for one in checklist(draft, on=MOMENT.date()) if one.name == "Marked load")
    assert not item.is_met
    assert item.text == "1.7 t may not be marked: the formula value allows 1.46 t."
    with pytest.raises(CannotIssue, match=r"1\.7 t may not be marked"):
        issue_certificate(certificate=draft, by=given_person(), at=MOMENT)


def test_a_draft_whose_mark_became_too_high_can_still_be_looked_at():
    reel = given_documented_reel()
    draft = drafted(1700, reel=reel)
    given_breaking_test(sample=given_sample(reel=reel), peak_n=80_000)
    issuing = Issuing("none", "", MOMENT, given_person(), Head(name="", address=""), "")
    assert build_snapshot(draft, issuing)["assembly"]["marked"]["derived"] == "1.46"


def test_a_correction_keeps_the_mark_unless_it_is_changed():
    old = issued(drafted(1700))
    assert wording_of(old).marked_kg == 1700


def test_a_correction_is_refused_a_mark_that_its_rope_no_longer_holds():
    reel = given_documented_reel()
    old = issued(drafted(1700, reel=reel))
    given_breaking_test(sample=given_sample(reel=reel), peak_n=80_000)
    with pytest.raises(MarkedTooHigh):
        draft_correction(
            certificate=old,
            reason="rope fell",
            wording=wording_of(old),
            by=given_person(),
            at=MOMENT,
        )
