"""Limits of EN 12385-4 as printed by a rope supplier: 12 mm may measure 12 to 12.6 mm."""

import pytest

from certs.models import ReceivingCheck
from certs.rules.measured_diameter import FIELDS
from inventory.models import Hold, Reel
from inventory.services.holds import release_hold
from tests.api import get, post
from tests.certs.checks import EN, given_bad_check
from tests.factories import MOMENT, ROPE, given_heat, given_mill, given_person, given_reel

pytestmark = pytest.mark.usefixtures("tables")


def body(**changed):
    heat = given_heat(number=f"{70_000 + Reel.objects.count()}")
    facts = {
        "designation": ROPE,
        "mill": given_mill().code,
        "length_mm": 100_000,
        "mill_reel_number": f"K-{Reel.objects.count()}",
        "heats": [{"heat": heat.code}],
    }
    return {**facts, **changed}


def measured(reading_nm, **changed):
    return {"standard": EN, **dict.fromkeys(FIELDS, reading_nm), **changed}


def test_every_reel_received_is_checked_with_what_is_known(qa):
    made = post(qa, "reels/", body())
    assert made["check"]["reel"] == made["code"]
    assert made["check"]["outcome"] == "cannot_say"
    assert made["check"]["hold"] is None
    assert made["designation"] == ROPE


def test_a_reel_is_received_with_its_measurements(qa):
    made = post(qa, "reels/", body(measured=measured(12_200_000, zinc_class="B")))
    findings = {one["topic"]: one for one in made["check"]["findings"]}
    assert findings["Measured diameter"]["verdict"] == "agree"
    assert findings["Measured diameter"]["derived"][0]["stated"] == "12.2"
    assert findings["Measured diameter"]["source"]["confidence"] == "read"
    assert findings["Zinc class"]["verdict"] == "agree"


def test_a_reel_that_does_not_agree_is_received_on_hold(qa):
    made = post(qa, "reels/", body(measured=measured(11_900_000)))
    hold = Hold.objects.get()
    assert made["check"]["outcome"] == "disagrees"
    assert (made["check"]["hold"], made["check"]["is_hold_released"]) == (hold.code, False)
    assert get(qa, f"holds/{hold.code}/")["released_at"] is None


def test_the_checks_of_a_reel_stand_last_first(qa):
    reel = given_reel()
    bad = given_bad_check(reel)
    release_hold(hold=bad.hold, reason="Agreed.", by=given_person(), at=MOMENT)
    good = post(qa, f"reels/{reel.code}/checks/", measured(12_200_000))
    assert good["outcome"] == "cannot_say"
    listed = get(qa, f"reels/{reel.code}/checks/")
    assert [one["code"] for one in listed] == [good["code"], bad.code]
    assert [one["is_hold_released"] for one in listed] == [False, True]


@pytest.mark.parametrize(
    ("asked", "field"),
    [
        pytest.param({"place1_a_nm": 12_200_000}, "place1_b_nm", id="one reading"),
        pytest.param(measured(1_220_000), "place1_a_nm", id="another rope"),
        pytest.param({"standard": "ISO 1"}, "standard", id="a standard not held"),
        pytest.param({"zinc_class": "C"}, "zinc_class", id="no zinc class"),
        pytest.param({"weighed_mass_g": 5}, "weighed_mass_g", id="half a weighing"),
    ],
)
def test_what_cannot_have_been_measured_is_refused(qa, asked, field):
    reel = given_reel()
    for path, sent in ((f"reels/{reel.code}/checks/", asked), ("reels/", body(measured=asked))):
        answer = qa.post(f"/api/{path}", sent, format="json")
        assert answer.status_code in {400, 409}
        assert answer.json()["field"] == field
    assert not ReceivingCheck.objects.exists()
    assert Reel.objects.count() == 1


@pytest.mark.parametrize("agreed", ["unknown", 7])
def test_an_agreement_that_is_not_on_record_is_refused(qa, agreed):
    reel = given_reel()
    answer = qa.post(f"/api/reels/{reel.code}/checks/", {"agreed": agreed}, format="json")
    assert answer.status_code == 400


def test_inches_stay_beside_the_figure(qa):
    reel = given_reel()
    asked = measured(12_217_400, as_given={"place1_a_nm": "0.481 in"})
    made = post(qa, f"reels/{reel.code}/checks/", asked)
    assert made["as_given"] == {"place1_a_nm": "0.481 in"}
