"""How a loading is told on a page."""

import pytest

from certs.pages.loading_shown import NOT_SHOWN, loading_shown
from certs.rules.loading_rate import loading_of
from tests.certs.rules.synthetic_log import times, trace, without

REQUIRED_N = 60_000
PULL = [(0.0, 0.0), (10.0, 48_000.0), (72.5, 63_000.0), (72.6, 0.0)]


def shown(*, corners=PULL, gaps=(), said=()):
    samples = without(trace(corners, times(until_s=corners[-1][0])), gaps=gaps)
    return loading_shown(loading_of(samples, required_n=REQUIRED_N).as_json(), said=said)


def texts(loading):
    return {fact.word: (fact.text, fact.note) for fact in loading.facts}


def test_both_parts_are_told():
    told = texts(shown())
    assert told["80 % of the required force"] == ("48 kN", "passed 10.0 s into the log")
    assert told["Fast part, mean rate"][0] == "8.00 % of it per second"
    assert told["Slow part, mean rate"] == (
        "0.400 % of it per second",
        "62.5 s from 80 % to the peak",
    )
    assert told["Slow part, greatest rate"][0] == "0.400 % of it per second"


def test_each_rate_can_be_followed():
    steps = shown().steps
    assert [step.stated for step in steps] == ["8.00 % per s", "0.400 % per s", "0.400 % per s"]
    assert {source.source for step in steps for source in step.inputs} == {
        "from the force log",
        "from the record",
    }


@pytest.mark.parametrize(
    ("corners", "gaps", "shape"),
    [
        pytest.param(PULL, (), "good", id="kept"),
        pytest.param([(0.0, 0.0), (10.0, 63_000.0), (10.1, 0.0)], (), "wait", id="too fast"),
        pytest.param(PULL, [(30.0, 40.0)], "open", id="a gap"),
        pytest.param([(0.0, 0.0), (9.0, 40_000.0), (9.1, 0.0)], (), "open", id="fell short"),
    ],
)
def test_the_shape_says_whether_someone_must_look(corners, gaps, shape):
    assert shown(corners=corners, gaps=gaps).shape == shape


def test_what_the_log_does_not_show_is_said():
    told = texts(shown(corners=[(0.0, 0.0), (9.0, 40_000.0), (9.1, 0.0)]))
    assert {text for word, (text, _) in told.items() if "rate" in word} == {NOT_SHOWN}


def test_a_gap_is_told_as_a_fact():
    assert texts(shown(gaps=[(30.0, 40.0)]))["Without readings above 80 %"][0] == "10.0 s"


def test_what_was_said_on_the_day_is_not_said_twice():
    (text,) = shown(gaps=[(30.0, 40.0)]).deviations
    assert shown(gaps=[(30.0, 40.0)], said=[text]).deviations == ()


def test_without_a_log_nothing_is_shown():
    assert loading_shown(None, said=[]) is None
