"""Limits of EN 12385-4 as printed by a rope supplier: 12 mm may measure 12 to 12.6 mm."""

import json

import pytest

from certs.models import ReceivingCheck
from certs.queries.receiving import Measured
from certs.queries.receiving_checks import check_standings
from certs.services.check_reel import CannotCheck, check_reel
from certs.services.specify import add_agreed_specification
from inventory.models import Hold, JournalEntry
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Role
from inventory.services.authority import NotAllowed
from inventory.services.holds import release_hold
from inventory.services.receive import record_heat
from inventory.services.rewind import rewind_reel
from tests.certs.checks import EN, finding, given_bad_check, given_check, given_good_check, readings
from tests.certs.claims import given_basis
from tests.factories import (
    MOMENT,
    given_customer,
    given_mill,
    given_person,
    given_reel,
)

pytestmark = pytest.mark.usefixtures("tables")


def test_a_check_keeps_what_was_measured_and_what_was_found():
    reel = given_reel(marked_grade="1770")
    check = given_check(
        reel,
        standard=EN,
        readings=readings("12.1", "12.2", "12.3", "12.2"),
        weighed_length_mm=2_000,
        weighed_mass_g=1_106,
        zinc_class="B",
        note="outer layer",
    )
    assert (check.code, check.reel, check.hold) == ("RC-00001", reel, None)
    assert (check.place1_a_nm, check.place2_b_nm) == (12_100_000, 12_200_000)
    assert finding(check, "Measured diameter")["verdict"] == "agree"
    assert "12.2 mm" in finding(check, "Measured diameter")["text"]
    assert finding(check, "Zinc class")["verdict"] == "agree"
    # W of 6x7 with a strand core is 0.384 (Feyrer, Table 1.9): 55.296 kg per 100 m at 12 mm.
    assert "+0.00723 % from 55.3 kg/100m" in finding(check, "Weighed mass")["text"]
    assert not Hold.objects.exists()
    check.refresh_from_db()
    assert check.outcome == ReceivingCheck.Outcome.CANNOT_SAY


def test_what_was_typed_in_inches_stays_beside_the_figure():
    reel = given_reel()
    typed = {"place1_a_nm": "0.481 in", "weighed_length_mm": "1 m", "weighed_mass_g": "1.22 lb"}
    measured = {
        "readings": readings("12.2174"),
        "weighed_length_mm": 1_000,
        "weighed_mass_g": 553,
    }
    check = given_check(reel, **measured, as_given=typed)
    assert check.as_given == {"place1_a_nm": "0.481 in", "weighed_mass_g": "1.22 lb"}
    with pytest.raises(Refusal, match="does not mean the figure"):
        given_check(reel, **measured, as_given={"place1_a_nm": "0.5 in"})


def test_a_check_is_journalled_with_its_verdicts_and_no_names():
    check = given_good_check(given_reel())
    entry = JournalEntry.objects.latest("id")
    assert (entry.act, entry.subject) == ("check_reel", check.code)
    detail = json.loads(entry.canonical)["detail"]
    assert detail["figures"]["place1_a_nm"] == 12_240_000
    assert detail["outcome"] == check.outcome
    assert check.reel.mill.name not in entry.canonical


def test_a_disagreement_puts_the_reel_on_hold_in_the_same_act():
    reel = given_reel(marked_grade="1960")
    check = given_bad_check(reel)
    assert check.outcome == ReceivingCheck.Outcome.DISAGREES
    assert check.hold.reel == reel
    assert "RC-00001" in check.hold.reason
    assert "Measured diameter; Marked grade" in check.hold.reason
    assert check.hold.placed_by == check.checked_by
    acts = list(JournalEntry.objects.order_by("id").values_list("act", flat=True))[-2:]
    assert acts == ["place_hold", "check_reel"]


def test_the_qa_officer_decides_with_a_reason():
    reel = given_reel()
    check = given_bad_check(reel)
    (before,) = check_standings([reel.code])
    assert not before.is_met
    assert f"releases {check.hold.code} with a reason" in before.text
    with pytest.raises(NotAllowed):
        release_hold(hold=check.hold, reason="Fine.", by=given_person(Role.STORES), at=MOMENT)
    release_hold(hold=check.hold, reason="Agreed by letter.", by=given_person(), at=MOMENT)
    (after,) = check_standings([reel.code])
    assert after.is_met
    assert "Agreed by letter." in after.text
    assert "measured diameter" in after.text


def test_the_last_check_stands_and_releases_no_hold():
    reel = given_reel()
    bad, good = given_bad_check(reel), given_good_check(reel)
    (standing,) = check_standings([reel.code])
    assert (standing.check, standing.is_met) == (good, True)
    bad.hold.refresh_from_db()
    assert bad.hold.released_at is None


def test_a_second_disagreement_has_a_hold_of_its_own():
    reel = given_reel()
    assert given_bad_check(reel).hold != given_bad_check(reel).hold


def test_a_reel_without_a_check_says_what_to_do():
    reel = given_reel()
    (standing,) = check_standings([reel.code])
    assert not standing.is_met
    assert "received without a check" in standing.text


def test_a_declared_force_is_held_against_the_basis_that_was_named():
    # K of 6x7 with a strand core is 0.388 (Feyrer, Table 1.9): 98.9 kN at 12 mm and 1770.
    reel = given_reel(declared_force_n=98_800)
    assert finding(given_check(reel), "Declared breaking force")["verdict"] == "cannot_say"
    given_basis(reel)
    check = given_check(reel)
    assert finding(check, "Declared breaking force")["verdict"] == "disagree"
    assert check.hold is not None


def agreement(**changed):
    facts = {
        "name": "Small ropes",
        "edition": "1",
        "agreed_with": given_customer(),
        "paper": "Letter 7",
        "designation": "1.5 7x7 1570 U sZ",
        "factor_k": "0.359",
        "factor_w": "0.4",
        "diameter_minus_pct": "0",
        "diameter_plus_pct": "10",
    }
    return add_agreed_specification(**{**facts, **changed}, by=given_person(), at=MOMENT)


def test_an_agreement_gives_the_limits_that_no_standard_has():
    reel = given_reel(designation="1.5 7x7 1570 U sZ")
    alone = given_check(reel, standard=EN, readings=readings("1.6"))
    assert finding(alone, "Measured diameter")["verdict"] == "cannot_say"
    assert "agreed value needed" in finding(alone, "Measured diameter")["rule"]
    agreed = agreement()
    check = given_check(reel, standard=EN, agreed=agreed, readings=readings("1.6"))
    assert finding(check, "Measured diameter")["verdict"] == "agree"
    assert (check.standard, check.agreed) == ("", agreed)
    # W d² = 0.4 x 2.25 = 0.9 kg per 100 m.
    weighed = given_check(reel, agreed=agreed, weighed_length_mm=100_000, weighed_mass_g=900)
    assert "0.900 kg/100m, 0 % from 0.900" in finding(weighed, "Weighed mass")["text"]


@pytest.mark.parametrize(
    ("mass_g", "verdict"),
    [pytest.param(945, "agree", id="5 % above"), pytest.param(946, "disagree", id="a gram more")],
)
def test_an_agreed_tolerance_of_the_mass_is_held_to(mass_g, verdict):
    # W d² = 0.4 x 2.25 = 0.9 kg per 100 m, and 5 % more is 0.945 kg: by hand.
    reel = given_reel(designation="1.5 7x7 1570 U sZ")
    agreed = agreement(mass_minus_pct="2", mass_plus_pct="5")
    weighing = {"weighed_length_mm": 100_000, "weighed_mass_g": mass_g}
    check = given_check(reel, agreed=agreed, **weighing)
    assert finding(check, "Weighed mass")["verdict"] == verdict
    assert finding(check, "Weighed mass")["source"]["name"] == "Small ropes"
    assert (check.hold is not None) is (verdict == "disagree")
    # Without the agreement nothing is concluded from the same weighing.
    assert finding(given_check(reel, **weighing), "Weighed mass")["verdict"] == "cannot_say"


@pytest.mark.parametrize(
    ("measured", "field"),
    [
        pytest.param({"standard": "ISO 1"}, "standard", id="a standard not held"),
        pytest.param({"weighed_mass_g": 5}, "weighed_mass_g", id="a mass without a length"),
        pytest.param({"weighed_length_mm": 5}, "weighed_mass_g", id="a length without a mass"),
        pytest.param(
            {"weighed_length_mm": 0, "weighed_mass_g": 5}, "weighed_mass_g", id="no length"
        ),
        pytest.param(
            {"weighed_length_mm": 10**9, "weighed_mass_g": 5},
            "weighed_length_mm",
            id="more than the reel holds",
        ),
        pytest.param({"zinc_class": "C"}, "zinc_class", id="no zinc class"),
        pytest.param({"readings": readings("1.2")}, "place1_a_nm", id="another rope"),
        pytest.param({"note": "n" * 301}, "note", id="a note too long"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(measured, field):
    reel = given_reel()
    with pytest.raises(Refusal) as refused:
        given_check(reel, **measured)
    assert refused.value.field == field
    assert not ReceivingCheck.objects.exists()


def test_an_agreement_on_another_rope_is_refused():
    with pytest.raises(CannotCheck, match="the reel is 12 6x7-WSC"):
        given_check(given_reel(), agreed=agreement())


def test_rope_wound_here_is_checked_on_the_mills_reel():
    wound = rewind_reel(reel=given_reel(), from_mm=0, to_mm=9, by=given_person(), at=MOMENT)
    with pytest.raises(CannotCheck, match="on the mill’s reel"):
        given_check(wound)


@pytest.mark.parametrize("role", [Role.TEST_BENCH, Role.AUDITOR, Role.ADMINISTRATOR])
def test_who_keeps_no_stores_checks_no_reel(role):
    reel = given_reel()
    with pytest.raises(NotAllowed):
        check_reel(reel=reel, measured=Measured(), by=given_person(role), at=MOMENT)


def test_many_points_are_named_as_far_as_there_is_room():
    mill = given_mill()
    # EN ISO 16120-2, C15D: carbon 0.12 to 0.17, read.
    heats = [
        record_heat(
            mill=mill,
            number=f"{'9' * 30}{i}",
            steel_name="C15D",
            analysis={"C": "0.9"},
            by=given_person(),
            at=MOMENT,
        )
        for i in range(9)
    ]
    reel = given_reel(heats=heats)
    check = given_check(reel)
    assert len(check.hold.reason) == 300
    assert check.hold.reason.endswith("…")
