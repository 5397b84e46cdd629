"""The frozen words beside a load, found again; the sentences are those that papers were given."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.load_words import load_quantity, load_sentences
from certs.rules.said import Said, Typed


@pytest.mark.parametrize(
    ("text", "words", "given"),
    [
        pytest.param(
            "One leg; EN 13414-1, angles counted from the vertical",
            "{legs}; {convention}.",
            {"legs": "One leg", "convention": "EN 13414-1, angles counted from the vertical"},
            id="one leg",
        ),
        pytest.param(
            "Two legs, 0 to 45 degrees from the vertical;"
            " EN 13414-1, angles counted from the vertical",
            "{legs}, {least} to {most} degrees from the vertical; {convention}.",
            {
                "legs": "Two legs",
                "least": "0",
                "most": "45",
                "convention": "EN 13414-1, angles counted from the vertical",
            },
            id="two legs and a range",
        ),
        pytest.param(
            "Lower of formula, 0.739 t, and printed table, 0.75 t (EN 13414-1:2003 Table 4), which"
            " lies +1.4 % off it",
            "Lower of formula, {formula}, and printed table, {printed} ({source}), which lies"
            " {difference} off it.",
            {
                "formula": "0.739 t",
                "printed": "0.75 t",
                "source": "EN 13414-1:2003 Table 4",
                "difference": "+1.4 %",
            },
            id="formula and table",
        ),
        pytest.param(
            "In pounds, rounded down: 1,629 lb",
            "In pounds, rounded down: {load}.",
            {"load": "1,629 lb"},
            id="pounds",
        ),
    ],
)
def test_a_sentence_is_found_again_with_its_figures(text, words, given):
    (found,) = load_sentences(f"{text}.")
    assert isinstance(found, Said)
    assert found == f"{text}."
    assert found.words == words
    assert dict(found.given) == given


def test_each_sentence_is_told_by_itself():
    first, second = load_sentences("One leg; EN 13414-1, angles counted from the vertical. Rope.")
    assert isinstance(first, Said)
    assert second == Typed("Rope.")
    assert type(second) is Typed


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("Five legs; EN 13414-1, angles counted from the vertical", id="other legs"),
        pytest.param("In pounds, rounded down: 1,629 pounds", id="another unit"),
        pytest.param("in pounds, rounded down: 1,629 lb", id="another letter"),
        pytest.param("Working load limit", id="a quantity is no sentence"),
    ],
)
def test_what_is_not_ours_stays_as_it_was_frozen(text):
    (found,) = load_sentences(text)
    assert type(found) is Typed
    assert found == f"{text}."


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("working load limit", Said),
        ("minimum breaking force of the rope of reel R-00003", Said),
        ("working load limit of something", Typed),
    ],
)
def test_a_quantity_begins_with_a_capital(text, kind):
    found = load_quantity(text)
    assert type(found) is kind
    assert found == text[:1].upper() + text[1:]


@given(st.text())
def test_no_word_is_lost(text):
    found = "".join(load_sentences(text))
    assert re.sub(r"[.\s]", "", found) == re.sub(r"[.\s]", "", text)
