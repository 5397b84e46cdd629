import pytest

from certs.queries.order_weight import order_weight, piece_weights
from certs.queries.rope_mass import nominal_masses
from certs.rules.derived import Gap
from inventory.services.orders import LineAsked
from tests.certs.claims import given_basis, given_factor
from tests.factories import given_order, given_piece, given_reel

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]
ROPE = "12 6x7-FC 1770 B sZ"


# API Spec 9A, Table C.1: 12 mm 6x7 FC has 49.7 kg per 100 m.
def test_an_order_weighs_what_its_lines_weigh():
    order = given_order(LineAsked(ROPE, 100_000), LineAsked(ROPE, 10_000, quantity=3))
    weight = order_weight(order)
    assert [line.text for line in weight.lines] == ["49.7 kg", "14.9 kg"]
    assert weight.total.text == "64.6 kg"
    assert weight.gaps == ()


def test_a_rope_of_no_mass_is_a_gap_and_no_nought():
    weight = order_weight(given_order(LineAsked("12 9x7-WSC 1770 B sZ", 100_000)))
    assert weight.total is None
    assert "No mass is held" in weight.gaps[0].reason
    assert "weigh a length" in weight.gaps[0].reason


def test_the_others_are_weighed_all_the_same():
    order = given_order(LineAsked("12 9x7-WSC 1770 B sZ", 9_000), LineAsked(ROPE, 100_000))
    weight = order_weight(order)
    assert weight.total.text == "49.7 kg"
    assert weight.gaps[0].quantity == "weight of line 1"


def test_a_named_grade_is_weighed_by_its_table():
    # API Spec 9A, Table C.1 prints a mass for 1/2 in 6x7 FC of US grades, in lb/ft.
    (mass,) = nominal_masses(["1/2 in 6x7-FC IPS U sZ"]).values()
    assert not isinstance(mass, Gap)
    assert mass.unit == "kg/100m"


@pytest.mark.parametrize("count", [1, 4])
def test_it_takes_three_queries(count, django_assert_num_queries):
    lines = [LineAsked(f"{size} 6x7-FC 1770 B sZ", 1000) for size in range(8, 8 + count)]
    order = given_order(*lines)
    with django_assert_num_queries(3):
        assert len(order_weight(order).lines) == count


def test_a_piece_is_weighed_by_its_reel():
    reel = given_reel(designation=ROPE, declared_mass_g_per_100m=50_000)
    given_basis(reel, given_factor("6x7", "FC"))
    piece = given_piece(reel=reel, length_m=10)
    assert [weight.text for weight in piece_weights(piece)] == ["4.97 kg", "5.00 kg"]


def test_a_piece_of_no_basis_says_why():
    (gap,) = piece_weights(given_piece())
    assert isinstance(gap, Gap)
