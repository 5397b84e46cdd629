"""What an assembly may carry, against EN 13414-1:2003 Table 4 and the formula by hand."""

import csv
from decimal import Decimal

import pytest

from certs.models import SlingLegFactor, TerminationEfficiency
from certs.queries.strength import assembly_strength
from certs.rules.derived import Source
from certs.rules.working_load import Coefficient
from certs.services.specify import name_basis
from inventory.models import Assembly, CutPiece
from inventory.services.assemble import FittingAsked, PieceAsked, TerminationAsked, build_assembly
from tests.certs.claims import FOLDER, given_basis, given_breaking_test, given_factor
from tests.factories import (
    MOMENT,
    given_assembly,
    given_fitting_lot,
    given_person,
    given_piece,
    given_reel,
    given_sample,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

LEGS = {"one_leg": 1, "two_leg": 2, "three_leg": 3, "four_leg": 4, "endless": 1}


def reel_of(designation: str, rope_class: str, core: str):
    reel = given_reel(designation=designation)
    given_basis(reel, given_factor(rope_class, core))
    return reel


@pytest.fixture
def steel():
    """12 mm of class 6x36 with a steel core, grade 1770: 0.356 x 144 x 1770 / 1000 = 90.7 kN."""
    return reel_of("12 6x36WS-IWRC 1770 B sZ", "6x36", "IWRC")


def sling(reel, kind: str = "one_leg") -> Assembly:
    return given_assembly(kind=kind, pieces=[given_piece(reel=reel) for _ in range(LEGS[kind])])


def with_ends(piece: CutPiece, kind: str, *ends: tuple[str, str]) -> Assembly:
    fitting = {"u_bolt_grips": "grip", "socket": "socket", "swage_terminal": "terminal"}
    asked = []
    for end, termination in ends:
        lot = fitting.get(termination)
        used = [FittingAsked(given_fitting_lot(kind=lot), 3 if lot == "grip" else 1)] if lot else []
        asked.append(TerminationAsked(end, termination, used))
    return build_assembly(
        kind=kind, pieces=[PieceAsked(piece, asked)], by=given_person(), at=MOMENT
    )


def printed(diameter: str) -> dict[str, Decimal]:
    with (FOLDER / "sling_wll_table.csv").open(encoding="utf-8", newline="") as file:
        return {
            row["configuration"]: Decimal(row["wll_t_printed"])
            for row in csv.DictReader(file)
            if row["nominal_diameter_mm"] == diameter
        }


@pytest.mark.parametrize(
    ("kind", "configurations"),
    [
        ("one_leg", ["1-leg direct"]),
        ("two_leg", ["2-leg 0-45", "2-leg 45-60"]),
        ("three_leg", ["3/4-leg 0-45", "3/4-leg 45-60"]),
        ("four_leg", ["3/4-leg 0-45", "3/4-leg 45-60"]),
        ("endless", ["endless choke"]),
    ],
)
def test_a_sling_is_rated_for_every_printed_band(steel, kind, configurations):
    strength = assembly_strength(sling(steel, kind))
    assert strength.problems == ()
    table = printed("12")
    assert [load.rating.published.wll_t for load in strength.loads] == [
        table[name] for name in configurations
    ]
    for load in strength.loads:
        # The printed table is rounded up or down by at most 2.4 % (EN 13414-1:2003, Table 4).
        formula = load.rating.formula.unrounded
        assert abs(formula / load.rating.published.wll_t - 1) < Decimal("0.025")
        assert load.rating.governing_t <= formula


def test_the_weakest_link_is_named_with_its_place_and_source(steel):
    strength = assembly_strength(sling(steel))
    piece = strength.pieces[0].piece
    assert strength.weakest_link.startswith(f"piece {piece.code}: ferrule-secured eye")
    assert "at near end" in strength.weakest_link
    assert "EN 13411-3" in strength.weakest_link
    # 90.7 kN x 0.90 = 81.63, rounded down.
    assert strength.force.text == "81.6 kN"


def test_a_grade_above_1770_is_rated_as_1770():
    # EN 13414-1:2003 guidance note: at most grade 1770.
    strong = assembly_strength(sling(reel_of("12 6x36WS-IWRC 1960 B sZ", "6x36", "IWRC")))
    plain = assembly_strength(sling(reel_of("12 6x36WS-IWRC 1770 B sZ", "6x36", "IWRC")))
    ratio = strong.loads[0].rating.formula.unrounded / plain.loads[0].rating.formula.unrounded
    assert abs(ratio - 1) < Decimal("0.005")
    assert strong.force.stated > plain.force.stated


def test_a_grade_below_1770_has_no_printed_row():
    strength = assembly_strength(sling(reel_of("12 6x36WS-IWRC 1570 B sZ", "6x36", "IWRC")))
    assert strength.loads[0].rating.published is None


def test_a_failed_test_lowers_what_the_sling_may_carry(steel):
    assembly = sling(steel)
    before = assembly_strength(assembly).loads[0].rating.formula.unrounded
    given_breaking_test(sample=given_sample(reel=steel), peak_n=80_000)
    after = assembly_strength(assembly).loads[0].rating.formula.unrounded
    # 80 kN x 0.9 / (5 x 9.81) = 1.4679 t, by hand.
    assert round(after, 4) == Decimal("1.4679")
    assert after < before


def test_the_weaker_of_two_legs_governs_both(steel):
    weaker = reel_of("12 6x36WS-IWRC 1770 B sZ", "6x36", "IWRC")
    given_breaking_test(sample=given_sample(reel=weaker), peak_n=80_000)
    legs = [given_piece(reel=steel), given_piece(reel=weaker)]
    strength = assembly_strength(given_assembly(kind="two_leg", pieces=legs))
    assert strength.weakest_piece.piece == legs[1]
    # 1.4679 x 1.4 in the steeper band.
    assert round(strength.loads[0].rating.formula.unrounded, 3) == Decimal("2.055")


def test_of_two_ends_the_weaker_one_counts(steel):
    assembly = with_ends(
        given_piece(reel=steel), "rope_with_ends", ("near", "socket"), ("far", "swage_terminal")
    )
    strength = assembly_strength(assembly)
    # EN 13411-4: 1.00; EN 13411-8: at least 0.90.
    assert [end.kt for end in strength.pieces[0].ends] == [Decimal("1.00"), Decimal("0.90")]
    assert "at far end" in strength.weakest_link


def test_a_rope_with_ends_has_a_force_and_no_working_load(steel):
    assembly = with_ends(given_piece(reel=steel), "rope_with_ends", ("near", "socket"))
    strength = assembly_strength(assembly)
    assert strength.force.text == "90.7 kN"
    assert strength.loads == ()


def test_a_coefficient_with_its_source_rates_a_rope_with_ends(steel):
    assembly = with_ends(given_piece(reel=steel), "rope_with_ends", ("near", "socket"))
    eight = Coefficient(Decimal(8), Source("drawing 12 of the buyer"))
    (load,) = assembly_strength(assembly, coefficient=eight).loads
    # 90.7 / (8 x 9.81) = 1.1557 t, by hand, rounded down.
    assert load.rating.formula.text == "1.15 t"
    assert "drawing 12" in load.rating.formula.source.name


def test_grips_are_refused_with_their_source(steel):
    assembly = with_ends(given_piece(reel=steel), "rope_with_ends", ("near", "u_bolt_grips"))
    strength = assembly_strength(assembly)
    assert "EN 13411-5" in strength.problems[0]
    assert (strength.force, strength.loads, strength.weakest_link) == (None, (), "")


def test_without_a_named_basis_nothing_is_rated():
    strength = assembly_strength(given_assembly())
    assert "No basis of strength is named" in strength.problems[0]
    assert (strength.force, strength.loads) == (None, ())


def test_without_the_tables_nothing_is_rated(steel):
    assembly = sling(steel)
    TerminationEfficiency.objects.all().delete()
    assert "No efficiency is held" in assembly_strength(assembly).problems[0]


def test_without_leg_factors_a_sling_is_not_rated(steel):
    assembly = sling(steel)
    SlingLegFactor.objects.all().delete()
    assert "No leg factor is held" in assembly_strength(assembly).problems[0]


def test_an_assembly_without_pieces_has_no_strength():
    empty = Assembly.objects.create(
        code="A-99999", kind="one_leg", built_at=MOMENT, built_by=given_person()
    )
    assert assembly_strength(empty).problems == ("The assembly has no pieces.",)


def test_a_piece_without_ends_has_no_strength(steel):
    bare = Assembly.objects.create(
        code="A-99999", kind="one_leg", built_at=MOMENT, built_by=given_person()
    )
    bare.piece_ties.create(piece=given_piece(reel=steel), position=1)
    assert "No termination is on record" in assembly_strength(bare).problems[0]


def test_a_us_grade_is_not_rated_as_a_sling():
    reel = given_reel(designation="1/2 in 6x7-FC IPS U sZ", declared_force_n=91_600)
    name_basis(reel=reel, kind="declared", reason="as declared", by=given_person(), at=MOMENT)
    lot = given_fitting_lot(for_diameter="1/2 in")
    assembly = given_assembly(pieces=[given_piece(reel=reel)], lot=lot)
    strength = assembly_strength(assembly)
    assert "names are not converted" in strength.problems[0]


def test_a_construction_the_standard_is_not_written_for_is_cautioned():
    strength = assembly_strength(sling(reel_of("12 6x7-WSC 1770 B sZ", "6x7", "WSC")))
    assert strength.cautions[0].startswith("6x7 is not of the classes")
    assert strength.loads


def test_the_usual_classes_need_no_such_caution(steel):
    assert not any("of the classes" in text for text in assembly_strength(sling(steel)).cautions)


def test_the_number_of_queries_grows_only_with_the_pieces(steel, django_assert_num_queries):
    assembly = sling(steel)
    with django_assert_num_queries(13):
        assembly_strength(assembly)
