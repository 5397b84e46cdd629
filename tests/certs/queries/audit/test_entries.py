"""Whatever somebody wrote into an entry past the program, the audit reads on and can say so."""

import json

import pytest

from certs.queries.audit.entries import EntryRow, Told, read_told
from certs.queries.audit.scratch import Bound, Scratch
from tests.factories import MOMENT

REEL, DIGEST = "inventory.Reel", "pTQ"


def bound(rows, named=None):
    entry = EntryRow(7, MOMENT, "", "", 3, "", "", "")
    told = list(Told({"detail": {"rows": rows, "named": named or {}}}).bound(entry))
    with Scratch() as scratch:
        scratch.bind(told)
        return list(scratch.bound(REEL))


def test_what_an_act_wrote_is_read_back():
    rows, named = (
        {"inventory.Heat": {"1": DIGEST}, REEL: {"12": DIGEST, "13": None}},
        {REEL: {"12": "bmFtZQ"}},
    )
    assert bound(rows, named) == [
        Bound(REEL, 12, DIGEST, "bmFtZQ", 3, 7),
        Bound(REEL, 13, None, None, 3, 7),
    ]


@pytest.mark.parametrize(
    "rows",
    [
        [],
        {REEL: "12"},
        {"\ud800": {"12": DIGEST}},
        {REEL: {"twelve": DIGEST}},
        {REEL: {"9" * 19: DIGEST}},
        {REEL: {"9" * 5000: DIGEST}},
        {REEL: {"12": {"a": 1}}},
        {REEL: {"12": 1.5}},
        {REEL: {"12": "\ud800"}},
    ],
    ids=[
        "no table",
        "no rows",
        "a name that is no text",
        "a key that is no number",
        "a key too large",
        "a key of 5000 digits",
        "a digest that is a table",
        "a digest that is a number",
        "a digest that is no text",
    ],
)
def test_what_no_act_ever_wrote_binds_nothing(rows):
    assert bound(rows) == []


def test_a_name_that_is_no_hash_agrees_with_none():
    (one,) = bound({REEL: {"12": DIGEST}}, {REEL: {"12": ["a"]}})
    assert one.named == "no hash"


@pytest.mark.parametrize("text", ["", "[]", "1", "[" * 100_000, json.dumps("x")])
def test_a_text_that_tells_nothing_is_read_as_nothing(text):
    assert read_told(EntryRow(7, MOMENT, "", "", 3, text, "", "")).fields == {}
