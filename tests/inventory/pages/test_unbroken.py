import pytest
from django.utils.safestring import mark_safe
from hypothesis import given
from hypothesis import strategies as st

from inventory.pages.unbroken import unbroken


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        pytest.param("on R-00003.", "R-00003", id="code before a full stop"),
        pytest.param("paper AT-2026-00001 stands", "AT-2026-00001", id="number of a paper"),
        pytest.param("line O-00012.1", "O-00012.1", id="line of an order"),
        pytest.param("Due on 2026-03-02.", "2026-03-02", id="day"),
        pytest.param("2026-11-02 08:17 UTC", "08:17 UTC", id="time of day with its zone"),
        pytest.param("since 08:17, when", "08:17", id="time of day"),
        pytest.param("70 kN where", "70 kN", id="force"),
        pytest.param("12.500 m of it", "12.500 m", id="length"),
    ],
)
def test_what_belongs_together_stays_in_one_line(text, kept):
    assert f'<span class="whole">{kept}</span>' in unbroken(text)


@pytest.mark.parametrize("text", ["6x7-WSC 1770 B", "EN 12385-4", "84.6 kN/mm", "a sea-worn rope"])
def test_other_words_may_break(text):
    assert unbroken(text) == text


def test_what_a_person_typed_is_escaped():
    assert unbroken("<b> R-00003 & more") == (
        '&lt;b&gt; <span class="whole">R-00003</span> &amp; more'
    )


def test_markup_is_left_as_it_is():
    assert unbroken(mark_safe("<i>R-00003</i>")) == "<i>R-00003</i>"


@given(st.text(alphabet="AR-0123456789. kNm<"))
def test_no_sign_is_lost(text):
    shown = unbroken(text)
    for mark in ('<span class="whole">', "</span>"):
        shown = shown.replace(mark, "")
    assert shown.replace("&lt;", "<") == text
