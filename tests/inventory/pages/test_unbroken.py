import pytest
from django.utils.safestring import mark_safe
from hypothesis import given
from hypothesis import strategies as st

from inventory.pages.unbroken import unbroken, unbroken_cell


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        pytest.param("on R-00003.", "R-00003", id="code before a full stop"),
        pytest.param("paper AT-2026-00001 stands", "AT-2026-00001", id="number of a paper"),
        pytest.param("line O-00012.1", "O-00012.1", id="line of an order"),
        pytest.param("Due on 2026-03-02.", "2026-03-02", id="day"),
        pytest.param("2026-11-02 08:17 UTC", "08:17 UTC", id="time of day with its zone"),
        pytest.param("since 08:17, when", "08:17", id="time of day"),
        pytest.param("8 6x19S-IWRC 1770 B sZ", "8 6x19S-IWRC", id="first half of a rope"),
        pytest.param("1.5 1x19 1570 U Z", "1570 U Z", id="second half of a rope"),
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


def test_a_cell_that_is_one_day_or_one_rope_stays_whole():
    assert unbroken_cell("2026-11-12") == '<span class="whole">2026-11-12</span>'
    assert unbroken_cell("8 6x19S-IWRC 1770 B sZ").count("whole") == 2


@pytest.mark.parametrize("text", ["", "P-00012: 3100 mm", "R-00001, R-00002", "70 kN (7.9 tonf)"])
def test_a_cell_of_words_is_left_as_it_is(text):
    assert unbroken_cell(text) == text
