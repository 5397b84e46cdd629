"""Against tests/vectors/check_symbols.json (Crockford's base 32, judged by python-stdnum)."""

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.rules import tag_code

CROCKFORD = json.loads((Path(__file__).parents[2] / "vectors/check_symbols.json").read_text())[
    "crockford"
]
ALPHABET = CROCKFORD["alphabet"]
SAMPLE = ["7Q4K9M2ZXR3T8VW2", "ZZZZZZZZZZZZZZZ7", "0123456789ABCDEE"]


@st.composite
def codes(draw):
    bits = st.integers(0, 2**75 - 1).map(tag_code.code_from_bits)
    return draw(bits.filter(lambda code: code is not None))


@pytest.mark.parametrize(("body", "check"), CROCKFORD["values"])
def test_the_check_symbol_is_the_published_one(body, check):
    assert tag_code.check_symbol(body) == check


def test_every_symbol_of_the_check_alphabet_stands_at_its_own_value():
    # Base 32 of the values 0 to 36: the body's value is less than 37, so it is its own check.
    bodies = [ALPHABET[value // 32] + ALPHABET[value % 32] for value in range(37)]
    assert "".join(map(tag_code.check_symbol, bodies)) == CROCKFORD["check_alphabet"]


@pytest.mark.parametrize("symbol", "UIL*a ")
def test_a_symbol_outside_the_alphabet_has_no_value(symbol):
    with pytest.raises(ValueError, match="no symbol of the alphabet"):
        tag_code.check_symbol("0" + symbol)


@pytest.mark.parametrize(
    ("bits", "code"),
    [
        pytest.param(0, "0000000000000000", id="all zero"),
        pytest.param(2**75 - 1, "ZZZZZZZZZZZZZZZ7", id="all one"),
        pytest.param(31, "00000000000000ZZ", id="last symbol"),
        pytest.param(32, None, id="check symbol would be a star"),
        pytest.param(36, None, id="check symbol would be U"),
    ],
)
def test_a_code_is_made_of_75_bits(bits, code):
    assert tag_code.code_from_bits(bits) == code


@pytest.mark.parametrize("bits", [-1, 2**75])
def test_other_than_75_bits_is_an_error_of_the_caller(bits):
    with pytest.raises(ValueError, match="75 bits"):
        tag_code.code_from_bits(bits)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("7q4k-9m2z-xr3t-8vw2", "7Q4K9M2ZXR3T8VW2"),
        (" 7Q4K 9M2Z XR3T 8VW2 ", "7Q4K9M2ZXR3T8VW2"),
        ("iIlLoO", "111100"),
    ],
)
def test_typing_is_folded(typed, meant):
    assert tag_code.fold(typed) == meant


@pytest.mark.parametrize("code", SAMPLE)
def test_a_code_is_written_in_groups_of_four_and_read_back(code):
    assert len(tag_code.grouped(code)) == 19
    assert tag_code.fold(tag_code.grouped(code).lower()) == code


def test_groups():
    assert tag_code.grouped("7Q4K9M2ZXR3T8VW2") == "7Q4K-9M2Z-XR3T-8VW2"


@pytest.mark.parametrize(
    ("text", "is_well_formed"),
    [
        ("7q4k-9m2z-xr3t-8vw2", True),
        ("o123 4567 89ab cdee", True),
        ("7Q4K9M2ZXR3T8VW3", False),
        ("7Q4K9M2ZXR3T8VW", False),
        ("7Q4K9M2ZXR3T8VW22", False),
        ("", False),
        ("7Q4K9M2ZXR3T8VWU", False),
        ("000000000000010*", False),  # right remainder, but such codes are never issued
        ("\N{FULLWIDTH DIGIT SEVEN}Q4K9M2ZXR3T8VW2", False),
        ("ß" * 8, False),
    ],
)
def test_what_could_have_been_issued(text, is_well_formed):
    assert tag_code.is_well_formed(text) is is_well_formed


@pytest.mark.parametrize("code", SAMPLE)
def test_every_single_error_is_caught(code):
    wrong = [
        code[:place] + symbol + code[place + 1 :]
        for place in range(16)
        for symbol in ALPHABET
        if symbol != code[place]
    ]
    assert len(wrong) == 16 * 31
    assert not any(map(tag_code.is_well_formed, wrong))


@pytest.mark.parametrize("code", SAMPLE)
def test_every_transposition_of_neighbours_is_caught(code):
    swapped = {
        code[:place] + code[place + 1] + code[place] + code[place + 2 :] for place in range(15)
    }
    assert not any(map(tag_code.is_well_formed, swapped - {code}))


@given(codes(), st.integers(0, 14), st.sampled_from(ALPHABET))
def test_a_drawn_code_is_well_formed_and_one_slip_is_not(code, place, symbol):
    slipped = code[:place] + symbol + code[place + 1 :]
    assert tag_code.is_well_formed(code)
    assert tag_code.is_well_formed(slipped) is (slipped == code)


@given(st.text(max_size=20))
def test_any_text_is_judged_without_error(text):
    assert tag_code.is_well_formed(text) in {True, False}
