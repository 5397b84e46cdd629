"""What was known on a past day: the story that was told then is the judge.

Each day's stories are kept as they are told on it. When everything has happened they are asked for
again, as known on that day, and must be word for word what was told.
"""

from datetime import date, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from certs.queries.as_known import NotYet, check_past, end_of, trace_as_known
from certs.queries.story_holds import holds_of
from certs.queries.trace import trace_code
from certs.queries.trace_find import CannotTrace
from certs.services.reverse_test import reverse_test
from certs.services.tags import issue_tag, revoke_tag
from certs.services.withdraw import withdraw_certificate
from inventory.rules.refusal import Refusal
from inventory.services.cut import reverse_cut
from inventory.services.holds import release_hold
from inventory.services.receive import HeatTie
from inventory.services.rewind import rewind_reel
from tests import factories
from tests.certs import checks, claims, papers, wires
from tests.certs.checks import given_good_check
from tests.certs.claims import given_basis, given_breaking_test, given_proof_test
from tests.certs.papers import given_cut_length_draft, issued
from tests.certs.wires import given_paper_test
from tests.factories import (
    given_assembly,
    given_delivery,
    given_fitting_lot,
    given_heat,
    given_hold,
    given_mill_document,
    given_person,
    given_piece,
    given_reel,
    given_sample,
)

pytestmark = pytest.mark.django_db
START = factories.MOMENT
ROOTS = ("R-00001", "H-00001", "H-00002")


class Diary:
    """What was told of every code at the end of each day."""

    def __init__(self, monkeypatch):
        self._monkeypatch = monkeypatch
        self.today = START
        self.told = []

    def doing(self):
        return {"by": given_person(), "at": self.today}

    def end_day(self, *codes):
        for code in codes:
            self.told.append((code, self.today.date(), without_drafts(trace_code(code))))
        self.today += timedelta(days=1)
        for module in (factories, checks, claims, papers, wires):
            self._monkeypatch.setattr(module, "MOMENT", self.today)


def without_drafts(story):
    papers_told = [row for row in story["certificates"] if row["state"] != "draft"]
    kept = {row["number"] for row in papers_told}
    customers = [
        row for row in story["customers"] if row["deliveries"] or kept & {*row["certificates"]}
    ]
    return {**story, "certificates": papers_told, "customers": customers}


def rope_days(diary):
    """Three days of cutting, reversing and holding; gives the reel and a piece."""
    heats = [given_heat(), given_heat()]
    ties = [HeatTie(heats[0], 0, 60_000), HeatTie(heats[1], 60_000, 100_000)]
    reel = given_reel(length_m=100, heats=ties, mill_document=given_mill_document())
    given_good_check(reel)
    given_basis(reel)
    diary.end_day(*ROOTS)

    wrong = given_piece(reel=reel, from_m=2, length_m=5)
    diary.end_day(*ROOTS, wrong.code)

    reverse_cut(cut=wrong, reason="wrong reel", **diary.doing())
    right = given_piece(reel=reel, from_m=3, length_m=6)
    issue_tag(piece=right, **diary.doing())
    doubt = given_hold(reel, from_mm=40_000, to_mm=70_000)
    diary.end_day(*ROOTS, right.code)

    release_hold(hold=doubt, reason="measured again", **diary.doing())
    wound = rewind_reel(reel=reel, from_mm=40_000, to_mm=90_000, **diary.doing())
    on_wound = given_piece(reel=wound, from_m=20, length_m=4)
    tag = issue_tag(piece=on_wound, **diary.doing())
    diary.end_day(*ROOTS, right.code, wound.code, on_wound.code, tag.code)
    revoke_tag(tag=tag, reason="lost", **diary.doing())
    return reel, right, wound, on_wound


def claim_days(diary, *, reel, right, wound, on_wound):
    """Four days of testing, certifying, delivering, and of taking some of it back."""
    when = {"tested_at": diary.today}
    broken = given_breaking_test(sample=given_sample(reel=wound), peak_n=120_000, **when)
    entered = given_breaking_test(sample=given_sample(reel=wound), peak_n=120_000, **when)
    laid = given_paper_test(reel)
    on_piece = given_hold(right)
    lot = given_fitting_lot(heat=factories.Heat.objects.get(code=ROOTS[1]))
    diary.end_day(*ROOTS, wound.code, on_wound.code, right.code, broken.code, laid.code, lot.code)

    reverse_test(test=entered, reason="another reel's", **diary.doing())
    release_hold(hold=on_piece, reason="no doubt", **diary.doing())
    paper = issued(given_cut_length_draft(on_wound))
    assembly = given_assembly(pieces=[right], lot=lot)
    diary.end_day(*ROOTS, on_wound.code, str(paper.number), assembly.code, lot.code, right.code)

    proof = given_proof_test(assembly=assembly, tested_at=diary.today)
    given_delivery(on_wound)
    diary.end_day(*ROOTS, on_wound.code, assembly.code, proof.code, lot.code)

    withdraw_certificate(certificate=paper, reason="wrong name", **diary.doing())
    given_delivery(assembly)
    diary.end_day(*ROOTS, on_wound.code, assembly.code, right.code, wound.code)


@pytest.fixture
def diary(tables, monkeypatch):
    """Eight days on one mill's reel: every act that a story tells of, and each one's undoing."""
    diary = Diary(monkeypatch)
    reel, right, wound, on_wound = rope_days(diary)
    claim_days(diary, reel=reel, right=right, wound=wound, on_wound=on_wound)
    return diary


def test_what_was_known_on_a_day_is_what_was_told_on_it(diary):
    assert len(diary.told) > 40
    for code, day, told in diary.told:
        assert trace_as_known(code, on=day) == told, (code, day)


def test_a_cut_reversed_since_stood_on_the_day(diary):
    (code, day, told) = diary.told[3]
    assert [piece["code"] for piece in told["pieces"]] == ["P-00001"]
    assert [piece["code"] for piece in trace_as_known(code, on=day)["pieces"]] == ["P-00001"]
    assert "P-00001" not in {piece["code"] for piece in trace_code(code)["pieces"]}


def test_a_point_is_told_with_its_neighbours_of_that_day(diary):
    _, day, told = diary.told[3]
    reel = told["asked"]["code"]
    around = trace_as_known(reel, on=day, at_mm=8_000)["point"]["around"]
    assert [(one["piece"], one["delivery"]) for one in around] == [("P-00001", "")]
    now = trace_code(reel, at_mm=8_000)["point"]["around"]
    assert [one["piece"] for one in now] == ["P-00002"]


def test_a_stretch_is_asked_as_known_too(diary):
    reel = diary.told[0][0]
    last = diary.told[-1][1]
    asked = {"from_mm": 60_000, "to_mm": 80_000}
    assert trace_as_known(reel, on=last, **asked) == without_drafts(trace_code(reel, **asked))


def test_what_was_not_on_record_yet_is_refused(diary):
    first = diary.told[0][1]
    for code in ("P-00001", "A-00001", "F-00001"):
        with pytest.raises(NotYet, match="was not on record"):
            trace_as_known(code, on=first)


@pytest.mark.parametrize(
    ("code", "stretch", "says"),
    [
        pytest.param("H-00001", (0, 1), "of a reel", id="a stretch of a heat"),
        pytest.param("R-00001", (0, 100_001), "ends at", id="past the end"),
        pytest.param("R-00001", (5, 5), "end after it starts", id="an empty stretch"),
    ],
)
def test_a_stretch_that_is_none_is_refused(diary, code, stretch, says):
    asked = {"from_mm": stretch[0], "to_mm": stretch[1]}
    with pytest.raises(Refusal, match=says):
        trace_code(code, **asked)
    with pytest.raises(Refusal, match=says):
        trace_as_known(code, on=START.date(), **asked)


def test_a_day_that_has_not_ended_is_refused():
    check_past(date(2026, 3, 1), today=date(2026, 3, 2))
    for day in (date(2026, 3, 2), date(2026, 3, 3)):
        with pytest.raises(NotYet, match="has not ended"):
            check_past(day, today=date(2026, 3, 2))


@pytest.mark.parametrize(
    ("day", "hours"),
    [
        pytest.param(date(2026, 3, 28), 24, id="an ordinary day"),
        pytest.param(date(2026, 3, 29), 23, id="summer time begins"),
        pytest.param(date(2026, 10, 25), 25, id="summer time ends"),
    ],
)
def test_a_day_ends_at_midnight_of_the_house(settings, day, hours):
    # Directive 2000/84/EC: summer time from the last Sunday in March to the last in October.
    settings.TIME_ZONE = "Europe/Berlin"
    assert end_of(day) - end_of(day - timedelta(days=1)) == timedelta(hours=hours)
    assert end_of(day).astimezone(ZoneInfo("Europe/Berlin")).time() == time.min


def test_the_holds_of_a_story_are_those_that_the_genealogy_finds(diary):
    given_hold(factories.Reel.objects.get(code="R-00001"), from_mm=50_000, to_mm=60_000)
    for code in ("R-00001", "R-00002", "H-00001", "H-00002", "P-00003", "A-00001", "F-00001"):
        story = trace_code(code)
        standing = {
            (one.hold.code, one.reaches) for one in holds_of(story) if one.hold.released_at is None
        }
        assert standing == {(row["code"], row["reaches"]) for row in story["holds"]}


def test_an_earlier_day_costs_as_many_queries_for_many_pieces_as_for_one(diary):
    day = diary.told[-1][1]
    reel = factories.Reel.objects.get(code="R-00001")

    def cost():
        with CaptureQueriesContext(connection) as asked:
            trace_as_known("R-00001", on=day)
        return len(asked)

    once = cost()
    for _ in range(4):
        given_piece(reel=reel, length_m=1)
    assert cost() == once


def test_an_unknown_code_is_refused(db):
    with pytest.raises(CannotTrace, match="Nothing on record"):
        trace_as_known("P-99999", on=START.date())
