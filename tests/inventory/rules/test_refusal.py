import pytest

from inventory.rules.refusal import Refusal


def test_it_speaks_its_message():
    assert str(Refusal("The reel is under hold.")) == "The reel is under hold."


@pytest.mark.parametrize(("given", "field"), [({}, ""), ({"field": "length"}, "length")])
def test_it_names_the_field_it_belongs_to(given, field):
    refusal = Refusal("Give a length.", **given)
    assert (refusal.message, refusal.field) == ("Give a length.", field)
