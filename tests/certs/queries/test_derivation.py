"""What a reel is certified at: the lowest of basis, declared value and failed tests."""

from datetime import timedelta
from decimal import Decimal

import pytest

from certs.queries.derivation import (
    NoBasis,
    certified_force,
    diameter_limits,
    length_mass,
    named_basis,
    required_force,
    suggested_bases,
)
from certs.rules.derived import Gap
from certs.services.specify import add_agreed_specification, name_basis
from inventory.models import Reel
from inventory.services.rewind import rewind_reel
from tests.certs.claims import given_basis, given_breaking_test, given_factor, given_table_row
from tests.factories import (
    MOMENT,
    given_customer,
    given_hold,
    given_machine,
    given_mill_document,
    given_person,
    given_reel,
    given_sample,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

# 0.388 x 12 x 12 x 1770 / 1000 = 98.893 kN: K of 6x7-WSC in Feyrer, Wire Ropes, Table 1.9.
SEVEN_BY_SEVEN_KN = Decimal("98.9")


def rewound(reel: Reel, from_m: int, to_m: int) -> Reel:
    return rewind_reel(
        reel=reel,
        from_mm=from_m * 1000,
        to_mm=to_m * 1000,
        by=given_person(),
        at=MOMENT,
    )


def test_without_a_named_basis_it_asks_for_one_and_lists_what_is_held():
    reel = given_reel(designation="12 6x7-FC 1770 B sZ")
    with pytest.raises(NoBasis, match="No basis of strength is named") as refused:
        certified_force(reel)
    assert "84.6 kN by factor K = 0.332" in refused.value.message
    assert "84.6 kN by table row of API Spec 9A" in refused.value.message


def test_without_anything_held_it_says_to_agree_on_one():
    reel = given_reel(designation="12 6xK36WS-IWRC 1960 B sZ")
    with pytest.raises(NoBasis, match="No table held speaks of it"):
        certified_force(reel)


def test_the_named_factor_gives_force_mass_and_diameter():
    reel = given_reel()
    given_basis(reel)
    force = certified_force(reel)
    assert (force.stated, force.unit, force.governed_by) == (SEVEN_BY_SEVEN_KN, "kN", "basis")
    # W 0.384: 55.3 kg/100m; EN 12385-4: up to 5 % over from 8 mm.
    assert length_mass(reel).stated == Decimal("55.3")
    assert diameter_limits(reel).max_mm == Decimal("12.6")


def test_the_basis_named_last_stands():
    reel = given_reel()
    given_basis(reel)
    last = given_basis(reel, given_factor("6x7", "WSC"))
    assert named_basis(reel) == last


def test_a_table_row_gives_what_it_prints():
    reel = given_reel(designation="12 6x7-FC 1770 U sZ")
    name_basis(
        reel=reel,
        kind="table",
        tabulated=given_table_row("API Spec 9A", "12", "1770"),
        reason="ordered to API Spec 9A",
        by=given_person(),
        at=MOMENT,
    )
    assert certified_force(reel).stated == Decimal("84.6")
    assert length_mass(reel).stated == Decimal("49.7")
    assert diameter_limits(reel).min_mm == Decimal(12)


def test_the_declared_value_governs_when_it_is_lower():
    reel = given_reel(declared_force_n=95_500)
    given_basis(reel)
    force = certified_force(reel)
    assert (force.stated, force.governed_by) == (Decimal("95.5"), "declared")


def test_the_declared_value_does_not_raise_the_force():
    reel = given_reel(declared_force_n=120_000)
    given_basis(reel)
    assert certified_force(reel).stated == SEVEN_BY_SEVEN_KN


def test_a_declared_basis_names_the_document_and_the_declared_mass():
    document = given_mill_document(number="MD-77")
    reel = given_reel(
        mill_document=document, declared_force_n=95_500, declared_mass_g_per_100m=54_000
    )
    name_basis(reel=reel, kind="declared", reason="as declared", by=given_person(), at=MOMENT)
    assert "mill document MD-77" in certified_force(reel).rests_on[0].basis
    assert length_mass(reel).stated == Decimal(54)
    assert diameter_limits(reel).max_mm == Decimal("12.6")


def test_a_declared_basis_without_a_declared_mass_has_a_gap():
    reel = given_reel(declared_force_n=95_500)
    name_basis(reel=reel, kind="declared", reason="as declared", by=given_person(), at=MOMENT)
    assert isinstance(length_mass(reel), Gap)


def agreed(**values):
    return add_agreed_specification(
        name="Agreement 7",
        edition="2026",
        agreed_with=given_customer(),
        paper="minutes of 1 March 2026, page 2",
        designation="12 7x7 1770 B",
        by=given_person(),
        at=MOMENT,
        **values,
    )


def test_an_agreed_specification_gives_what_was_agreed():
    specification = agreed(
        factor_k="0.359", factor_w="0.38", diameter_minus_pct="1", diameter_plus_pct="4"
    )
    reel = given_reel()
    name_basis(
        reel=reel,
        kind="agreed",
        agreed=specification,
        reason="as agreed",
        by=given_person(),
        at=MOMENT,
    )
    # By hand: 0.359 x 144 x 1770 / 1000 = 91.50; 0.38 x 144 = 54.72; 12 mm - 1 % and + 4 %.
    assert certified_force(reel).stated == Decimal("91.5")
    assert length_mass(reel).stated == Decimal("54.7")
    limits = diameter_limits(reel)
    assert (limits.min_mm, limits.max_mm) == (Decimal("11.88"), Decimal("12.48"))


def test_an_agreement_on_the_force_alone_leaves_the_mass_a_gap():
    reel = given_reel()
    name_basis(
        reel=reel,
        kind="agreed",
        agreed=agreed(force_n=90_000),
        reason="as agreed",
        by=given_person(),
        at=MOMENT,
    )
    assert certified_force(reel).stated == Decimal(90)
    assert isinstance(length_mass(reel), Gap)
    assert diameter_limits(reel).max_mm == Decimal("12.6")


def test_suggestions_come_lowest_first_and_hold_agreements():
    specification = agreed(force_n=90_000)
    found = suggested_bases("12 6x7-WSC 1770 B sZ")
    assert [one.agreed for one in found][:1] == [specification]
    assert found[-1].factor == given_factor("6x7", "WSC")


def test_a_us_grade_is_suggested_its_tables_alone():
    found = suggested_bases("1/2 in 6x7-FC IPS U sZ")
    assert {one.kind for one in found} == {"table"}


def test_a_failed_test_derates_and_is_told():
    reel = given_reel()
    given_basis(reel)
    test = given_breaking_test(sample=given_sample(reel=reel), peak_n=93_100)
    force = certified_force(reel)
    assert (force.stated, force.governed_by) == (Decimal("93.1"), "derated")
    assert any(test.code in remark for remark in force.remarks)


def test_the_lowest_of_several_failures_governs():
    reel = given_reel()
    given_basis(reel)
    for peak_n in (93_100, 90_200, 95_000):
        given_breaking_test(sample=given_sample(reel=reel), peak_n=peak_n)
    force = certified_force(reel)
    assert force.stated == Decimal("90.2")
    assert len(force.remarks) == 3


def test_a_break_near_the_grip_does_not_derate():
    reel = given_reel()
    given_basis(reel)
    # ISO 3108:2017: within six diameters (72 mm) it may be discounted.
    test = given_breaking_test(sample=given_sample(reel=reel), peak_n=93_100, break_distance_mm=72)
    assert test.outcome == "discounted"
    assert certified_force(reel).stated == SEVEN_BY_SEVEN_KN


def test_a_test_that_meets_the_force_does_not_raise_it():
    reel = given_reel()
    given_basis(reel)
    given_breaking_test(sample=given_sample(reel=reel), peak_n=104_000)
    assert certified_force(reel).stated == SEVEN_BY_SEVEN_KN


def test_a_failure_derates_all_rope_of_the_same_mill_reel():
    mill_reel = given_reel()
    given_basis(mill_reel)
    tested, sister = rewound(mill_reel, 0, 100), rewound(mill_reel, 100, 200)
    daughter = rewound(sister, 10, 50)
    given_breaking_test(sample=given_sample(reel=tested), peak_n=93_100)
    for reel in (mill_reel, tested, sister, daughter):
        assert certified_force(reel).stated == Decimal("93.1"), reel


def test_a_failure_says_nothing_of_another_mill_reel():
    reel, other = given_reel(), given_reel()
    given_basis(reel)
    given_basis(other)
    given_breaking_test(sample=given_sample(reel=other), peak_n=93_100)
    assert certified_force(reel).stated == SEVEN_BY_SEVEN_KN


def test_a_wound_reel_has_the_basis_of_the_reel_it_came_from():
    mill_reel = given_reel(declared_force_n=95_500)
    basis = given_basis(mill_reel)
    reel = rewound(rewound(mill_reel, 0, 200), 50, 100)
    assert named_basis(reel) == basis
    assert certified_force(reel).governed_by == "declared"


def test_a_wound_reel_may_have_a_basis_of_its_own():
    mill_reel = given_reel()
    given_basis(mill_reel)
    reel = rewound(mill_reel, 0, 200)
    assert named_basis(reel) == named_basis(mill_reel)
    own = given_basis(reel)
    assert named_basis(reel) == own
    assert named_basis(mill_reel) != own


def test_a_failure_in_doubt_derates_all_the_same_and_says_so():
    reel, machine = given_reel(), given_machine()
    given_basis(reel)
    given_breaking_test(sample=given_sample(reel=reel), peak_n=93_100, machine=machine)
    hold = given_hold(machine)
    force = certified_force(reel)
    assert force.stated == Decimal("93.1")
    assert (
        f"in doubt: Testing machine {machine.code} is under hold {hold.code}." in force.remarks[-1]
    )


def test_what_a_sample_must_reach_is_not_lowered_by_a_failure():
    reel = given_reel(declared_force_n=95_500)
    given_basis(reel)
    given_breaking_test(sample=given_sample(reel=reel), peak_n=93_100)
    assert required_force(reel).stated == Decimal("95.5")


def test_the_number_of_queries_does_not_grow_with_the_family(django_assert_num_queries):
    mill_reel = given_reel()
    given_basis(mill_reel)
    reels = [rewound(mill_reel, at, at + 10) for at in range(0, 50, 10)]
    for reel in reels:
        given_breaking_test(sample=given_sample(reel=reel), peak_n=99_000)
    with django_assert_num_queries(7):
        certified_force(reels[0])


def test_a_basis_named_later_takes_the_place_of_the_first():
    reel = given_reel()
    given_basis(reel)
    name_basis(
        reel=reel,
        kind="agreed",
        agreed=agreed(force_n=80_000),
        reason="as agreed",
        by=given_person(),
        at=MOMENT + timedelta(days=1),
    )
    assert certified_force(reel).stated == Decimal(80)
