import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.length_mass import length_mass
from certs.rules.mass_unit import declared_mass
from certs.rules.reel_length import (
    NO_LIMITS,
    Drum,
    Method,
    agreements,
    length_by_drum,
    length_by_mass,
)
from certs.rules.tolerance import agreed_limits, diameter_limits
from tests.certs.rules.tables import TOLERANCES, factor, rope

TWELVE = rope()
LIMITS = diameter_limits(TWELVE, standard="EN 12385-4", rows=TOLERANCES)
MASS = length_mass(TWELVE, factor("6x7", "FC"))
DRUM = Drum(barrel_mm=300, traverse_mm=400, wound_mm=600)
BARREL, TRAVERSE, WIDER = st.integers(50, 900), st.integers(50, 2000), st.integers(1, 900)


def by_mass(net_g, *, tare_g=40_000, limits=None, mass=MASS):
    return length_by_mass(
        gross_g=net_g + tare_g,
        tare_g=tare_g,
        mass=mass,
        nominal_mm=TWELVE.diameter_mm,
        limits=limits,
    )


def by_drum(drum=DRUM, *, limits=None, nominal="12"):
    return length_by_drum(drum, nominal_mm=Decimal(nominal), limits=limits)


# API Spec 9A Table C.1: 12 mm 6x7 FC has 49.7 kg per 100 m; 497 kg of it is 1000 m.
def test_printed_mass_gives_the_length_of_a_kilometre():
    length = by_mass(497_000)
    assert (length.low.stated, length.low.unit) == (1000, "m")
    assert length.method is Method.MASS
    assert "L = 100 × (537 - 40) / 49.7 = 1000 m" in length.low.steps()[-2]


def test_declared_mass_is_named_as_such():
    declared = declared_mass(g_per_100m=50_000, document="mill document 7")
    length = by_mass(100_000, mass=declared)
    assert length.low.stated == 200
    assert "declared by the maker in mill document 7" in length.named


# EN 12385-4: 12 mm rope measures 12.0 to 12.6 mm (0 to +5 %, as in API Spec 9A Table C.1).
def test_thick_rope_is_heavier_and_so_there_is_less_of_it():
    length = by_mass(497_000, limits=LIMITS)
    assert float(length.low.unrounded) == pytest.approx(1000 / 1.05**2)
    assert length.high.unrounded == 1000
    assert length.is_bounded


def test_empty_reel_holds_nothing():
    assert by_mass(0).high.stated == 0
    assert by_drum(Drum(barrel_mm=300, traverse_mm=400, wound_mm=300)).high.stated == 0


# Worked by hand: 4 turns of 10 mm rope side by side, 2 layers on a barrel of 90 mm: layers run on
# circles of 100 and 120 mm, so 4 π (100 + 120) = 2765 mm. The formula must give the same.
def test_square_packing_is_the_sum_of_its_turns():
    length = by_drum(Drum(barrel_mm=90, traverse_mm=40, wound_mm=130), nominal="10")
    assert float(length.low.unrounded) == pytest.approx(4 * math.pi * (100 + 120) / 1000)


@given(BARREL, st.integers(1, 12), st.integers(1, 40), st.integers(2, 40))
def test_square_packing_is_the_sum_of_its_layers(barrel, layers, turns, d):
    drum = Drum(barrel_mm=barrel, traverse_mm=turns * d, wound_mm=barrel + 2 * layers * d)
    by_hand = sum(turns * math.pi * (barrel + d * (2 * n + 1)) for n in range(layers))
    length = by_drum(drum, nominal=str(d))
    assert float(length.low.unrounded) == pytest.approx(by_hand / 1000)


# Circles in hexagons cover π/√12 = 0.9069 of the plane, in squares π/4 = 0.7854 (Thue, Lagrange).
@given(BARREL, TRAVERSE, WIDER)
def test_packings_differ_by_their_densities(barrel, traverse, wider):
    length = by_drum(Drum(barrel_mm=barrel, traverse_mm=traverse, wound_mm=barrel + wider))
    ratio = float(length.high.unrounded / length.low.unrounded)
    assert ratio == pytest.approx((math.pi / math.sqrt(12)) / (math.pi / 4))


@given(BARREL, TRAVERSE, WIDER)
def test_limits_of_diameter_widen_the_bounds(barrel, traverse, wider):
    drum = Drum(barrel_mm=barrel, traverse_mm=traverse, wound_mm=barrel + wider)
    plain, limited = by_drum(drum), by_drum(drum, limits=LIMITS)
    assert limited.low.unrounded < plain.low.unrounded
    assert limited.high.unrounded == plain.high.unrounded
    assert limited.is_bounded


def test_missing_limits_are_said():
    assert NO_LIMITS in by_drum().low.remarks
    assert not by_drum(limits=LIMITS).low.remarks
    assert not by_drum().is_bounded


def compared(ledger_mm, *estimates):
    return {(a.first, a.second): a for a in agreements(ledger_mm=ledger_mm, estimates=estimates)}


@pytest.mark.parametrize(
    ("ledger_m", "limits", "is_consistent"),
    [
        pytest.param(1000, LIMITS, True, id="at the upper bound"),
        pytest.param(950, LIMITS, True, id="between the bounds"),
        pytest.param(1001, LIMITS, False, id="more than can be"),
        pytest.param(900, LIMITS, False, id="less than can be"),
        pytest.param(1000, None, True, id="exact without limits"),
        pytest.param(1001, None, None, id="without limits nobody can say"),
    ],
)
def test_ledger_and_mass(ledger_m, limits, is_consistent):
    (found,) = agreements(ledger_mm=ledger_m * 1000, estimates=(by_mass(497_000, limits=limits),))
    assert found.is_consistent is is_consistent


def test_disagreement_is_in_mm_and_per_cent():
    (found,) = agreements(ledger_mm=1_010_000, estimates=(by_mass(497_000),))
    assert (found.least_mm, found.most_mm) == (10_000, 10_000)
    assert (found.least_percent, found.most_percent) == (Decimal("1.0"), Decimal("1.0"))


def test_readings_are_compared_with_each_other_too():
    mass, drum = by_mass(497_000, limits=LIMITS), by_drum(limits=LIMITS)
    found = compared(1_000_000, mass, drum)
    assert set(found) == {
        ("the ledger", mass.named),
        ("the ledger", drum.named),
        (mass.named, drum.named),
    }


def test_an_agreed_range_bounds_it_too():
    limits = agreed_limits(min_mm=Decimal("11.9"), max_mm=Decimal("12.2"), document="an agreement")
    length = by_mass(497_000, limits=limits)
    assert length.low.unrounded < 1000 < length.high.unrounded


@given(st.integers(0, 10**7), st.integers(1, 10**7))
def test_consistency_is_no_gap_between_the_spans(ledger_mm, net_g):
    (found,) = agreements(ledger_mm=ledger_mm, estimates=(by_mass(net_g, limits=LIMITS),))
    assert found.least_mm <= found.most_mm
    if found.is_consistent:
        assert found.least_mm <= 0 <= found.most_mm
