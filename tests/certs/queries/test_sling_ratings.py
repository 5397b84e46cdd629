"""American ratings, limits of building and proof rules, from record to certificate."""

from datetime import date
from decimal import Decimal

import pytest

from certs.queries.assembly_facts import assembly_facts
from certs.queries.checklist import checklist
from certs.queries.proof_asked import proof_asked
from certs.queries.proof_held import proof_held
from certs.queries.rating_words import difference_text, words_of
from certs.queries.strength import assembly_strength
from certs.rules.finding import Verdict
from inventory.services.rewind import rewind_reel
from tests.certs.claims import given_proof_test
from tests.certs.papers import given_assembly_draft
from tests.certs.slings import given_link, given_rope, given_sling
from tests.factories import MOMENT, given_fitting_lot, given_person

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

US = "from_horizontal"


def verdicts(assembly, topic, **facts):
    found = assembly_strength(assembly, **facts).findings
    return {finding.verdict for finding in found if finding.topic == topic}


def rules_of(assembly):
    asked = proof_asked(assembly_strength(assembly))
    return {
        told.regime.name: [(one.row.key, one.load.legs.legs.value, one.text) for one in told.asked]
        for told in asked
    }


@pytest.mark.parametrize(
    ("kind", "legs", "stated"),
    [
        # 90.7 kN x 0.95 (US Army TM 5-3810-305-10 Table 4) / (5 x 9.81) = 1.7567 t; then times
        # legs and the sine of 60, 45 and 30 degrees, by hand, each rounded down.
        ("one_leg", 1, ["1.75"]),
        ("two_leg", 2, ["3.03", "2.47", "1.75"]),
        ("three_leg", 3, ["4.54", "3.71", "2.62"]),
        ("four_leg", 4, ["4.54", "3.71", "2.62"]),
    ],
)
def test_an_american_sling_is_rated_from_the_horizontal(kind, legs, stated):
    strength = assembly_strength(given_sling(kind=kind, legs=legs, convention=US))
    assert strength.problems == ()
    assert [load.rating.governing_t for load in strength.loads] == [Decimal(t) for t in stated]
    assert all(load.rating.formula.is_provisional for load in strength.loads)
    assert all("angles counted from the horizontal" in words_of(load) for load in strength.loads)
    assert all(load.rating.published is None for load in strength.loads)


def test_american_practice_does_not_cap_the_grade_at_1770():
    reel = given_rope("12 6x36WS-IWRC 1960 B sZ")
    american = assembly_strength(given_sling(reel=reel, convention=US))
    # 0.356 x 144 x 1960 / 1000 = 100.48, stated 100 kN; 100 x 0.95 / 49.05 = 1.93 t, by hand.
    assert american.leg.rating.formula.text == "1.93 t"


def test_an_american_endless_sling_is_a_gap():
    strength = assembly_strength(given_sling(kind="endless", convention=US))
    assert "No American rated load is held" in strength.problems[0]
    assert (strength.loads, strength.leg) == ((), None)


def test_a_hand_splice_of_a_size_that_is_not_held_is_an_american_gap():
    strength = assembly_strength(given_sling(end="hand_splice", convention=US))
    assert "No efficiency is held for hand splice under US Army" in strength.problems[0]


def test_formula_and_printed_table_stand_side_by_side_with_their_difference():
    # EN 13414-1:2003 Table 4 prints 1.7 t; by hand 90.7 x 0.9 / 49.05 = 1.66422 t, 2.1 % less.
    (load,) = assembly_strength(given_sling()).loads
    assert difference_text(load) == "+2.1 %"
    assert words_of(load) == (
        "One leg; EN 13414-1, angles counted from the vertical. Lower of formula, 1.66 t, and"
        f" printed table, 1.7 t ({load.rating.published.source.text}), which lies +2.1 % off it"
    )


def test_a_sling_without_a_printed_row_says_so():
    reel = given_rope("12 6x36WS-IWRC 1570 B sZ")
    (load,) = assembly_strength(given_sling(reel=reel)).loads
    assert difference_text(load) == ""
    assert words_of(load).endswith("no printed value is held to compare it with")


def test_grips_on_a_static_suspension_are_allowed_with_their_cautions():
    assembly = given_sling(kind="rope_with_ends", end="u_bolt_grips", use="static")
    strength = assembly_strength(assembly)
    assert strength.problems == ()
    # 90.7 x 0.80 = 72.56 kN; the 0.80 of EN 13411-5 is from memory, the lower end of its range.
    assert strength.force.text == "72.5 kN"
    assert strength.force.is_provisional
    assert strength.pieces[0].ends[0].printed == "0.80-0.90 (maker)"
    assert strength.loads == ()
    assert any("saddle on the live rope" in text for text in strength.cautions)
    assert strength.cautions[1].startswith("For static suspension only")
    assert verdicts(assembly, "Grips") == {Verdict.CANNOT_SAY}
    assert rules_of(assembly) == {"Static suspension": []}


@pytest.mark.parametrize("kind", ["one_leg", "rope_with_ends"])
def test_grips_are_refused_on_whatever_lifts(kind):
    strength = assembly_strength(given_sling(kind=kind, end="u_bolt_grips"))
    assert "EN 13411-5" in strength.problems[0]
    assert strength.force is None


def test_a_wedge_socket_on_a_single_strand_is_refused():
    reel = given_rope("12 1x19 1770 B Z", "1x19", "-")
    assembly = given_sling(reel=reel, kind="rope_with_ends", end="wedge_socket")
    assert "single spiral strand" in assembly_strength(assembly).problems[0]


@pytest.mark.parametrize(
    ("facts", "topic"),
    [
        # EN 13414-1 as a trade summary tells it: 20 d between ferrules, a pin of 2 d.
        pytest.param({"clear_mm": 239}, "Clear rope", id="clear-rope-below-20d"),
        pytest.param({"bend_mm": 23}, "Bearing", id="pin-below-2d"),
    ],
)
def test_what_is_built_against_its_limits_is_not_rated_nor_certified(facts, topic):
    assembly = given_sling(**facts)
    strength = assembly_strength(assembly)
    assert verdicts(assembly, topic) == {Verdict.DISAGREE}
    assert (strength.loads, strength.leg, strength.force) == ((), None, None)
    assert "trade summary" in strength.problems[0]
    items = checklist(given_assembly_draft(assembly, kind="2.1"), on=MOMENT.date())
    (item,) = [item for item in items if item.name == "Strength of the assembly"]
    assert not item.is_met


def test_the_checklist_tells_what_of_the_build_cannot_be_said():
    draft = given_assembly_draft(given_sling(clear_mm=240), kind="2.1")
    items = checklist(draft, on=MOMENT.date())
    (item,) = [item for item in items if item.name == "Strength of the assembly"]
    assert item.is_met
    assert item.text.endswith("Of its build these cannot be said: soft eye, bearing.")


def test_what_was_built_and_measured_right_agrees():
    assembly = given_sling(clear_mm=240, bend_mm=24, eye_mm=300)
    strength = assembly_strength(assembly, lay_mm=Decimal(75))
    assert {finding.verdict for finding in strength.findings} == {Verdict.AGREE}
    assert strength.loads


def test_an_eye_below_four_lays_as_measured_is_not_rated():
    assembly = given_sling(eye_mm=299)
    assert verdicts(assembly, "Soft eye") == {Verdict.CANNOT_SAY}
    assert verdicts(assembly, "Soft eye", lay_mm=Decimal(75)) == {Verdict.DISAGREE}
    assert assembly_strength(assembly, lay_mm=Decimal(75)).loads == ()


@pytest.mark.parametrize(
    ("eye_mm", "is_rated"), [pytest.param(302, True, id="4p"), pytest.param(301, False, id="less")]
)
def test_a_lay_recorded_with_the_reel_judges_the_soft_eyes_unasked(eye_mm, is_rated):
    # Four lays of 75.5 mm are 302 mm, by hand; a rewound reel is the same rope.
    rope = rewind_reel(
        reel=given_rope(lay_length_um=75_500), from_mm=0, to_mm=90_000, by=given_person(), at=MOMENT
    )
    assembly = given_sling(reel=rope, eye_mm=eye_mm)
    assert verdicts(assembly, "Soft eye") == {Verdict.AGREE if is_rated else Verdict.DISAGREE}
    assert bool(assembly_strength(assembly).loads) is is_rated
    text = str(assembly_facts(assembly)) if is_rated else assembly_strength(assembly).problems[0]
    assert "at least 302 mm" in text


def test_a_thimble_makes_it_no_soft_eye():
    thimble = given_fitting_lot(kind="thimble", for_diameter="")
    assert verdicts(given_sling(more=[thimble]), "Soft eye") == set()


@pytest.mark.parametrize(
    ("rated_kg", "verdict"),
    [
        # One leg carries 1.66 t; 1.6 x 1.66 = 2.656 t, by hand.
        (2656, Verdict.AGREE),
        (2655, Verdict.CANNOT_SAY),
        (1659, Verdict.DISAGREE),
        (None, Verdict.CANNOT_SAY),
    ],
)
def test_links_between_legs_are_held_against_a_leg(rated_kg, verdict):
    assembly = given_sling(kind="four_leg", legs=4, more=[given_link(rated_kg)])
    assert verdicts(assembly, "Link or hook") == {verdict}
    assert bool(assembly_strength(assembly).loads) is (verdict is not Verdict.DISAGREE)


@pytest.mark.parametrize(
    ("day", "name", "load"),
    [
        # 1.5 x 1.66 t x 9.81 = 24.4269 kN, by hand; the coefficient is from memory under both.
        (date(2026, 12, 1), "Machinery Directive 2006/42/EC", "24.427 kN"),
        (date(2027, 2, 1), "Machinery Regulation (EU) 2023/1230", "24.427 kN"),
    ],
)
def test_the_market_day_picks_the_law_of_the_proof_load(day, name, load):
    rules = rules_of(given_sling(market_date=day))
    assert rules[name] == [("sling_accessory_static", "one_leg", load)]


def test_american_legs_are_proved_one_by_one_at_twice_the_upright_load():
    # 2 x 1.75 t x 9.81 = 34.335 kN, by hand (ASME B30.9 as cited on a test form).
    rules = rules_of(given_sling(kind="two_leg", legs=2, convention=US))
    assert rules["United States, wire rope slings"] == [
        ("sling_mechanical_splice", "one_leg", "34.335 kN")
    ]


def test_a_european_hand_splice_is_told_its_ceiling_and_refused_more():
    rules = rules_of(given_sling(end="hand_splice", market_date=date(2026, 1, 1)))
    # 90.7 x 0.8 / 49.05 = 1.4792, stated 1.47 t; 1.25 x 1.47 x 9.81 = 18.0258..., cut to the N.
    assert rules["Hand splice, most it may see"] == [("sling_hand_tucked", "one_leg", "18.025 kN")]
    assert "never proved above 1.25" in rules["Machinery Directive 2006/42/EC"][0][2]


def test_what_is_not_rated_is_told_rules_without_loads():
    rules = rules_of(given_sling(kind="rope_with_ends", end="socket"))
    assert rules["Machinery Directive 2006/42/EC"] == []


@pytest.mark.parametrize(
    ("required_n", "verdict"),
    [
        # 1.5 x 1.66 t x 9.81 = 24.427 kN, up to the newton; the coefficient is from memory, and
        # so it warns and never rejects.
        (24_427, Verdict.AGREE),
        (24_426, Verdict.CANNOT_SAY),
    ],
)
def test_the_proof_load_is_held_against_the_rules_that_apply(required_n, verdict):
    assembly = given_sling(market_date=date(2026, 12, 1))
    assert proof_held(assembly_strength(assembly)) == ()
    given_proof_test(assembly=assembly, required_n=required_n)
    (finding,) = proof_held(assembly_strength(assembly))
    assert finding.verdict is verdict
    assert assembly_facts(assembly)["proof_held"][0]["verdict"] == verdict.value


def test_the_paper_states_use_convention_build_and_rules():
    facts = assembly_facts(given_sling(convention=US, bend_mm=24, market_date=date(2027, 2, 1)))
    assert (facts["use"], facts["convention"], facts["bend_mm"]) == ("lifting", US, 24)
    assert facts["market_date"] == "2027-02-01"
    assert facts["convention_text"].startswith("United States practice")
    assert {one["topic"] for one in facts["build"]} == {"Clear rope", "Bearing"}
    # What holds only for a use that nobody spoke of, ship's gear or welded ends, is left out.
    assert [one["name"] for one in facts["proof_rules"]] == ["United States, wire rope slings"]
    assert facts["ratings"][0]["convention"] == US


def test_too_few_grips_are_warned_of_by_their_number():
    assembly = given_sling(kind="rope_with_ends", end="u_bolt_grips", use="static", grips=2)
    (only,) = [f for f in assembly_strength(assembly).findings if f.topic == "Grips"]
    assert "near end; P-00001, far end: 2 grips on record" in only.text
    assert "from memory" in only.warnings[0]
