import pytest

from inventory.models import Assembly
from inventory.rules.legs import PIECES, check_legs
from inventory.rules.refusal import Refusal

BOTH, NEAR, NONE = {"near", "far"}, {"near"}, set()

GOOD = {
    "one leg": ("one_leg", [BOTH]),
    "two legs": ("two_leg", [BOTH] * 2),
    "three legs": ("three_leg", [BOTH] * 3),
    "four legs": ("four_leg", [BOTH] * 4),
    "endless, joined once": ("endless", [NEAR]),
    "a rope with one end": ("rope_with_ends", [NEAR]),
    "a rope with two ends": ("rope_with_ends", [BOTH]),
}

BAD = {
    "another kind": ("five_leg", [BOTH] * 5, "no kind"),
    "a leg too few": ("two_leg", [BOTH], "2 pieces of rope, not 1"),
    "a leg too many": ("one_leg", [BOTH] * 2, "1 piece of rope, not 2"),
    "no piece": ("one_leg", [], "not 0"),
    "an open end": ("two_leg", [BOTH, NEAR], "Leg 2 has an open end"),
    "a third end": ("one_leg", [BOTH | {"middle"}], "“near” or “far”"),
    "a plain rope": ("rope_with_ends", [NONE], "no assembly"),
    "an endless sling that is not joined": ("endless", [NONE], "no assembly"),
}


@pytest.mark.parametrize(("kind", "ends"), list(GOOD.values()), ids=GOOD)
def test_an_assembly_of_the_right_pieces(kind, ends):
    assert check_legs(kind, ends) is None


@pytest.mark.parametrize(("kind", "ends", "why"), list(BAD.values()), ids=BAD)
def test_an_assembly_of_wrong_pieces_is_refused(kind, ends, why):
    with pytest.raises(Refusal, match=why):
        check_legs(kind, ends)


def test_every_kind_on_record_has_its_number_of_pieces():
    assert set(PIECES) == set(Assembly.Kind.values)
