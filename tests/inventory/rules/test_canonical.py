"""Against the cases of the author of RFC 8785 and the SHA-256 example of FIPS 180-4."""

import json
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.rules.canonical import canonical_bytes, canonical_text, sha256_hex

VECTORS = Path(__file__).parents[2] / "vectors/rfc8785_jcs"
NAMES = ("arrays", "french", "structures", "unicode", "values", "weird")
WITH_FLOATS = {"values", "structures"}

exact = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=12,
)


def read(folder, name):
    return (VECTORS / folder / name).read_text(encoding="utf-8")


def test_all_cases_of_the_author_are_here():
    assert sorted(path.stem for path in (VECTORS / "input").iterdir()) == sorted(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_the_bytes_are_the_published_ones(name):
    value = json.loads(read("input", f"{name}.json"))
    assert canonical_bytes(value) == bytes.fromhex(read("outhex", f"{name}.txt"))


@pytest.mark.parametrize("name", [name for name in NAMES if name not in WITH_FLOATS])
def test_the_text_is_the_published_one(name):
    value = json.loads(read("input", f"{name}.json"))
    assert canonical_text(value) == read("output", f"{name}.json")


@pytest.mark.parametrize("name", sorted(WITH_FLOATS))
def test_a_published_case_with_floats_is_refused_as_text(name):
    with pytest.raises(TypeError, match="write a measured value as a string"):
        canonical_text(json.loads(read("input", f"{name}.json")))


@pytest.mark.parametrize(
    ("value", "said"),
    [
        pytest.param(
            {"test": [{"force": 84.6}]}, r"float at \$\.test\[0\]\.force", id="deep float"
        ),
        pytest.param((1.5,), r"float at \$\[0\]", id="float in a tuple"),
        pytest.param({1: "a"}, "a key that is no string", id="key"),
        pytest.param(Decimal("84.6"), "a Decimal", id="decimal"),
        pytest.param({"at": b"x"}, r"a bytes at \$\.at", id="bytes"),
    ],
)
def test_what_json_does_not_keep_is_refused_by_name(value, said):
    with pytest.raises(TypeError, match=said):
        canonical_text(value)


@pytest.mark.parametrize("value", [2**53, -(2**53), float("nan"), float("inf")])
def test_a_number_that_readers_would_change_is_refused(value):
    with pytest.raises(ValueError, match=r"safe integer domain|not representable"):
        canonical_bytes([value])


def test_half_a_surrogate_pair_is_refused():
    with pytest.raises(ValueError, match="non-UTF-8"):
        canonical_text("\ud800")


def test_a_type_json_does_not_know_is_refused_below_as_well():
    with pytest.raises(ValueError, match="Decimal"):
        canonical_bytes([Decimal(1)])


@given(exact)
def test_reading_back_gives_the_same_value_and_the_same_text(value):
    text = canonical_text(value)
    assert json.loads(text) == value
    assert canonical_text(json.loads(text)) == text


@given(st.dictionaries(st.text(), st.integers(0, 9), min_size=2))
def test_the_order_of_writing_does_not_matter(value):
    assert canonical_text(dict(reversed(value.items()))) == canonical_text(value)


def test_sha256_of_abc():
    # NIST's published example of FIPS 180-4 for the message "abc".
    assert sha256_hex(b"abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
