"""Codes of EN 10168 as far as they are known here: a few seen elsewhere, the rest from memory.

Seen means: read in a document that used them (groups, A01, B01, B07, C11, C71 to C99); the text of
the standard was not at hand, so no other code may stand on paper without its star.
"""

import pytest

from certs.rules.confidence import WORDS
from certs.rules.field_codes import CODES, FOOTNOTE, shown_code

SEEN = {"A01", "B01", "B07", "C11", "C71-C92"}


@pytest.mark.parametrize(
    ("code", "content"),
    [
        ("A01", "manufacturer's works"),
        ("B01", "product"),
        ("B07", "identification of the product"),
        ("C71-C92", "chemical composition"),
    ],
)
def test_a_code_that_was_seen_stands_plain(code, content):
    assert shown_code(code) == code
    assert CODES[code].content.startswith(content)


@pytest.mark.parametrize("code", sorted(set(CODES) - SEEN))
def test_every_other_code_bears_the_star_of_memory(code):
    assert shown_code(code) == f"{code}*"
    assert WORDS[CODES[code].confidence] == "from memory"


def test_the_footnote_says_what_the_star_means():
    assert "marked * are from memory" in FOOTNOTE


def test_a_breaking_force_takes_the_range_of_other_mechanical_tests():
    # EN 10168 has no field for the breaking force of a rope: C50 to C69 (from memory).
    assert CODES["C50-C69"].content == "other mechanical tests"


def test_a_code_that_nobody_knows_is_none():
    with pytest.raises(KeyError):
        shown_code("A98")
