"""Sentences that can be said in another language; copies keep their words (the copy protocol)."""

import copy
import pickle
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.said import Said, Typed

TOLD = Said("This tag was revoked on {day}: {reason}", day=date(2026, 2, 1), reason=Typed("lost"))


def test_it_reads_as_its_english_text():
    assert TOLD == "This tag was revoked on 2026-02-01: lost"
    assert TOLD.words == "This tag was revoked on {day}: {reason}"
    assert dict(TOLD.given) == {"day": date(2026, 2, 1), "reason": "lost"}
    assert isinstance(TOLD.given["reason"], Typed)


def test_a_place_that_is_given_nothing_is_refused():
    with pytest.raises(KeyError):
        Said("metre {place}")


def test_what_is_given_is_not_changed_later():
    with pytest.raises(TypeError):
        TOLD.given["reason"] = "stolen"


@pytest.mark.parametrize(
    "again",
    [
        pytest.param(copy.copy, id="copied"),
        pytest.param(copy.deepcopy, id="copied whole"),
        pytest.param(lambda one: pickle.loads(pickle.dumps(one)), id="written and read"),  # noqa: S301
    ],
)
def test_a_copy_keeps_its_words_and_not_only_its_text(again):
    made = again(TOLD)
    assert (made, made.words, dict(made.given)) == (TOLD, TOLD.words, dict(TOLD.given))
    assert type(made.given["reason"]) is Typed


@given(st.text())
def test_whatever_stands_in_a_place_is_taken_as_it_is(text):
    assert Said("on {thing}", thing=text) == f"on {text}"
