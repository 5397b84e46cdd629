"""What readings say: by which mass, between which bounds, and beside which ledger."""

from datetime import timedelta

import pytest

from certs.queries.reel_length import readings_of, told_reading
from certs.queries.rope_mass import limits_of, masses_of
from certs.rules.derived import Gap
from certs.services.read_reel import read_reel
from tests.certs.checks import given_check
from tests.certs.claims import given_basis, given_factor
from tests.factories import MOMENT, given_person, given_piece, given_reel

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]
TARE_G = 40_000
DRUM = {"kind": "drum", "barrel_mm": 300, "traverse_mm": 400, "wound_mm": 500}


@pytest.fixture
def reel():
    """12 mm 6x7-FC: 49.7 kg per 100 m in API Spec 9A, Table C.1."""
    reel = given_reel(designation="12 6x7-FC 1770 B sZ", length_m=1000)
    given_basis(reel, given_factor("6x7", "FC"))
    return reel


def weigh(reel, net_g, **said):
    values = {"kind": "mass", "gross_g": TARE_G + net_g, "tare_g": TARE_G}
    return read_reel(reel=reel, by=given_person(), at=MOMENT, **(values | said))


def verdicts(reel):
    return [one.agreements[0].is_consistent for one in readings_of(reel).readings]


def test_a_full_reel_weighs_what_it_should(reel):
    weigh(reel, 497_000)
    (one,) = readings_of(reel).readings
    assert one.estimates[0].high.stated == 1000
    assert one.agreements[0].is_consistent
    assert one.agreements[0].least_mm == 0


@pytest.mark.parametrize(
    ("net_g", "is_consistent"),
    [
        pytest.param(400_000, False, id="too light"),
        # 5 % over the nominal diameter is 10 % over the nominal mass (EN 12385-4: 0 to +5 %).
        pytest.param(540_000, True, id="thick rope"),
        pytest.param(560_000, False, id="too heavy"),
    ],
)
def test_a_ledger_that_cannot_be_is_told(reel, net_g, is_consistent):
    weigh(reel, net_g)
    assert verdicts(reel) == [is_consistent]


def test_each_reading_is_held_against_the_ledger_of_its_time(reel):
    weigh(reel, 497_000)
    given_piece(reel=reel, length_m=500)
    weigh(reel, 248_500)
    assert [one.reading.ledger_mm for one in readings_of(reel).readings] == [500_000, 1_000_000]
    assert verdicts(reel) == [True, True]


def test_weighing_and_winding_are_compared_while_nothing_is_cut(reel):
    weigh(reel, 497_000)
    read_reel(reel=reel, by=given_person(), at=MOMENT + timedelta(minutes=5), **DRUM)
    (between,) = readings_of(reel).between
    assert between.first.startswith("by mass")
    assert between.second == "by drum and winding"


def test_a_cut_between_them_makes_them_strangers(reel):
    weigh(reel, 497_000)
    given_piece(reel=reel, length_m=1)
    read_reel(reel=reel, by=given_person(), at=MOMENT + timedelta(minutes=5), **DRUM)
    assert readings_of(reel).between == ()


def test_a_declared_mass_speaks_beside_the_basis():
    reel = given_reel(designation="12 6x7-FC 1770 B sZ", declared_mass_g_per_100m=50_000)
    given_basis(reel, given_factor("6x7", "FC"))
    weigh(reel, 500_000)
    (one,) = readings_of(reel).readings
    assert [round(part.high.unrounded) for part in one.estimates] == [1006, 1000]
    assert "declared by the maker" in one.estimates[1].named


def test_without_a_basis_nothing_is_made_up():
    reel = given_reel()
    reading = weigh(reel, 100_000)
    told = told_reading(reading)
    assert told.estimates == ()
    assert "No basis of strength is named" in told.gaps[0].reason
    assert limits_of(reel) is None
    assert isinstance(masses_of(reel)[0], Gap)


def test_without_a_basis_a_winding_still_says_something():
    reel = given_reel()
    told = told_reading(read_reel(reel=reel, by=given_person(), at=MOMENT, **DRUM))
    assert not told.estimates[0].is_bounded
    assert told.gaps == ()
    assert told.agreements[0].is_consistent is not False


def test_below_two_millimetres_no_limit_is_held():
    reel = given_reel(designation="1.5 6x7-WSC 1770 B sZ")
    given_basis(reel)
    assert limits_of(reel) is None


@pytest.mark.parametrize("count", [1, 5])
def test_it_takes_as_many_queries_for_many_readings(reel, count, django_assert_max_num_queries):
    for _ in range(count):
        weigh(reel, 497_000)
    with django_assert_max_num_queries(14):
        assert len(readings_of(reel).readings) == count


def test_a_length_weighed_at_goods_in_tells_the_mass_where_nothing_else_does():
    reel = given_reel(designation="12 6x7-FC 1770 B sZ", length_m=1000)
    assert [isinstance(mass, Gap) for mass in masses_of(reel)] == [True]
    given_check(reel, weighed_length_mm=2_000, weighed_mass_g=1_000)
    weigh(reel, 500_000)
    (one,) = readings_of(reel).readings
    # 1 kg on 2 m is 50 kg per 100 m, and so 500 kg are 1000 m, however thick the rope may be.
    assert (one.estimates[0].low.stated, one.estimates[0].high.stated) == (1000, 1000)
    assert not one.estimates[0].is_bounded
    assert one.gaps == ()


def test_a_mass_held_goes_before_a_length_weighed(reel):
    before = masses_of(reel)
    given_check(reel, weighed_length_mm=2_000, weighed_mass_g=1_500)
    assert masses_of(reel) == before
