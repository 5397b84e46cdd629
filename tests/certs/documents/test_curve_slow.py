"""How 80 % and the slow part of a loading are drawn and said."""

import re

import pytest

from certs.documents.curve_marks import CurveMarks, marks_of
from certs.documents.load_curve import describe_curve, draw_load_curve
from certs.documents.load_curve_table import load_curve_table

# 80 % of 60 kN at 10 s, broken at 63 kN after 72.5 s.
PULL = [(0.0, 0.0), (10.0, 48_000.0), (72.5, 63_000.0), (72.6, 0.0)]
MARKS = CurveMarks(target_n=60_000, mark_n=48_000, slow=(10.0, 72.5), peak=(72.5, 63_000.0))
FACTS = {
    "required_n": 60_000,
    "peak_n": 63_000,
    "curve": [[0, 0], [10_000, 48_000], [72_500, 63_000], [72_600, 0]],
    "loading": {"mark_n": 48_000, "marked_ms": 10_000, "peak_ms": 72_500},
}


def drawn(marks=MARKS, **size):
    return draw_load_curve(samples=PULL, marks=marks, **size)


def test_the_slow_part_is_drawn_and_named():
    svg = str(drawn())
    assert "slow part 62.5 s" in svg
    assert "80 %: 48 kN" in svg


def test_without_marks_nothing_of_it_is_drawn():
    svg = str(drawn(CurveMarks(target_n=60_000)))
    assert "slow part" not in svg
    assert "80 %" not in svg


def test_the_words_of_a_short_slow_part_stay_within_the_field():
    marks = CurveMarks(target_n=60_000, mark_n=48_000, slow=(72.0, 72.5))
    (x,) = re.findall(r'<text[^>]* x="([\d.]+)"[^>]*>slow part', str(drawn(marks, width=300)))
    assert 58 < float(x) < 300 - 20


def test_it_is_said_in_words():
    words = describe_curve(samples=PULL, marks=MARKS)
    assert "80 % of the target is 48 kN. Slow part 62.5 s, from 10 s to 72.5 s." in words


def test_it_stands_in_the_table():
    rows = load_curve_table(samples=PULL, marks=MARKS)
    told = [(row.time_s, row.force) for row in rows if row.remark == "80 % passed"]
    assert told == [("10", "48 kN")]


def test_the_facts_of_a_test_give_the_marks():
    assert marks_of(FACTS) == MARKS


@pytest.mark.parametrize(
    ("loading", "mark_n"),
    [
        pytest.param(None, None, id="a paper of earlier days"),
        pytest.param({**FACTS["loading"], "marked_ms": None}, 48_000, id="passed unseen"),
    ],
)
def test_what_the_facts_do_not_hold_is_not_marked(loading, mark_n):
    marks = marks_of({**FACTS, "loading": loading})
    assert (marks.mark_n, marks.slow) == (mark_n, None)
