"""The hash of a row, checked against OpenSSL's command on canonical JSON written by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.rules.row_digest import row_digest, salted_digest

texts = st.text(st.characters(codec="utf-8"), max_size=8)
values = st.none() | st.booleans() | texts | st.lists(texts, max_size=3)
rows = st.dictionaries(texts, values, max_size=5)


def test_a_row_has_the_hash_that_openssl_gives():
    # printf '%s' '{"id":"7","length_mm":"1000"}' | openssl dgst -sha256 -binary | base64
    columns = {"length_mm": "1000", "id": "7"}
    assert row_digest(columns) + "=" == "vB9p80A94LuG0KRtcoNMmeKlWp8wrPLK+5gGbMbx7KY="


def test_a_name_has_the_keyed_hash_that_openssl_gives():
    # printf '%s' '{"id":"7","name":"Ångström"}' |
    #   openssl dgst -sha256 -hmac pepper -binary | base64
    found = salted_digest({"id": "7", "name": "Ångström"}, salt="pepper")
    assert found + "=" == "YbYAeaCDnRr3TW5NGmM39dySWzQXpvYnKB3tnymn9Ug="


@pytest.mark.parametrize("empty", [None, "", False, [], {}], ids=repr)
def test_an_empty_column_counts_as_none(empty):
    assert row_digest({"id": "7", "added_later": empty}) == row_digest({"id": "7"})


@pytest.mark.parametrize("something", [0, "0", True, [0], {"a": None}], ids=repr)
def test_nought_is_not_nothing(something):
    assert row_digest({"id": "7", "added_later": something}) != row_digest({"id": "7"})


@given(rows, texts, st.text("ab", min_size=1))
def test_a_changed_column_changes_the_hash(row, name, text):
    assert row_digest(row | {name: text}) != row_digest(row | {name: text + "c"})


@given(rows)
def test_the_order_of_columns_does_not_count(row):
    assert row_digest(dict(reversed(row.items()))) == row_digest(row)


@given(rows, st.text("ab", min_size=1))
def test_another_salt_gives_another_hash(row, salt):
    assert salted_digest(row, salt=salt) != salted_digest(row, salt=f"{salt}c")


def test_what_json_cannot_say_is_refused():
    with pytest.raises(ValueError, match="not representable"):
        row_digest({"mass": float("nan")})
