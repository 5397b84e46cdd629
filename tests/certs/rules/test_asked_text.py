"""What a text in the search box could mean; the tag is built by the rule of its own alphabet."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.asked_text import AskedText, asked_text
from inventory.rules.tag_code import code_from_bits, grouped

TAG = next(code for code in map(code_from_bits, range(10**22, 10**22 + 99)) if code)


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        pytest.param("R-00012", "R-00012", id="as printed"),
        pytest.param("r12", "R-00012", id="short"),
        pytest.param(" rc 3 ", "RC-00003", id="two letters and a blank"),
        pytest.param("https://rope.example/reels/R-00012/?from=1", "R-00012", id="address"),
        pytest.param("/receiving-checks/RC-00003/", "RC-00003", id="path"),
        pytest.param("70707", "", id="number of others"),
        pytest.param("R-12-13", "", id="no code"),
    ],
)
def test_a_code_of_ours(typed, code):
    assert asked_text(typed).code == code


@pytest.mark.parametrize("typed", ["AT-2026-00001", "at 2026 1", "AT2026-1"])
def test_the_number_of_a_certificate(typed):
    assert asked_text(typed).number == "AT-2026-00001"


@pytest.mark.parametrize(
    "typed",
    [TAG, grouped(TAG).lower(), f"https://rope.example/T/{TAG}", f"HTTPS://ROPE.EXAMPLE/T/{TAG}",
     f"https://rope.example/t/{TAG}/paper/AT-2026-x.pdf"],
    ids=["plain", "in groups", "address", "as in a QR", "address below it"],
)  # fmt: skip
def test_a_tag(typed):
    assert asked_text(typed).tag == TAG


def test_a_code_of_five_figures_is_no_number():
    assert asked_text("CD-00030") == AskedText("CD-00030", code="CD-00030", word="CD-00030")


def test_a_word_of_one_sign_is_none():
    assert asked_text("x") == AskedText("x")


def test_a_number_with_a_stroke_in_it_stays_a_word():
    assert asked_text("MD/26/0418").word == "MD/26/0418"


@given(st.text(max_size=60))
def test_whatever_is_typed_is_read(typed):
    asked = asked_text(typed)
    assert "\x00" not in asked.text + asked.word
    assert asked_text(asked.text).text == asked.text
