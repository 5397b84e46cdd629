"""What a decision rule is, and which multiples may be read."""

from decimal import Decimal

import pytest

from certs.rules.decision_rule import INHERENT, NoMultiple, Rule, read_multiple


@pytest.mark.parametrize(
    ("text", "multiple"),
    # The multiples of ILAC-G8:09/2019, Table 1 (0.83, 1.5 from memory).
    [("1", "1"), ("0.83", "0.83"), (" 1,5 ", "1.5"), ("3", "3")],
)
def test_multiples_that_are_read(text, multiple):
    assert read_multiple(text) == Decimal(multiple)


@pytest.mark.parametrize(
    "text", ["", "0", "-1", "3.01", "1e1", "NaN", "Infinity", "one", "0.333333333"]
)
def test_what_is_no_multiple(text):
    with pytest.raises(NoMultiple, match="above 0 and not above 3") as refused:
        read_multiple(text)
    assert refused.value.field == "multiple"


def test_a_rule_says_itself():
    assert "no guard band" in INHERENT.words
    assert "0.83 times" in Rule("by agreement", Decimal("0.830")).words
    assert "guard band of its expanded" in Rule("by agreement", Decimal("1.0")).words
    assert INHERENT.as_json()["multiple"] == "0"
