import pytest
from django.urls import reverse

from inventory.models import Hold
from tests import factories as given


def at(name, thing):
    return reverse(f"inventory:{name}", args=[thing.code])


def test_a_stretch_of_a_reel_is_put_on_hold(as_stores):
    reel = given.given_reel(length_m=100)
    asked = {"from_mm": "20", "to_mm": "30", "reason": "kinked"}
    answer = as_stores.post(at("place_hold", reel), asked)
    hold = Hold.objects.get()
    assert answer["Location"] == at("hold", hold)
    assert (hold.reel, hold.from_mm, hold.to_mm) == (reel, 20_000, 30_000)


@pytest.mark.parametrize("name", ["heat", "lot", "machine", "piece", "assembly"])
def test_everything_else_is_put_on_hold_as_a_whole(name, as_stores, record):
    subject = getattr(record, name)
    before = Hold.objects.count()
    as_stores.post(at("place_hold", subject), {"reason": "in doubt"})
    assert Hold.objects.count() == before + 1


def test_an_order_cannot_be_put_on_hold(as_stores, record):
    assert as_stores.get(at("place_hold", record.order)).status_code == 404


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        pytest.param({"from_mm": "20", "to_mm": "130"}, "ends at 100.000 m", id="past the end"),
        pytest.param({"from_mm": "20"}, "both ends", id="one end"),
    ],
)
def test_a_hold_that_cannot_be_is_refused_and_stays_typed(asked, words, as_stores):
    reel = given.given_reel(length_m=100)
    answer = as_stores.post(at("place_hold", reel), {"reason": "kept as typed"} | asked)
    assert words in answer.text
    assert "kept as typed" in answer.text
    assert not Hold.objects.exists()


@pytest.mark.parametrize("name", ["reel", "wound", "piece", "assembly"])
def test_a_hold_on_the_heat_warns_on_everything_made_from_it(name, as_auditor, record):
    page = "reel" if name == "wound" else name
    hold = given.given_hold(record.heat)
    text = as_auditor.get(at(page, getattr(record, name))).text
    assert "is under hold. Do not" in text
    assert hold.code in text


def test_the_page_of_a_hold_lists_what_it_reaches(as_auditor, record):
    text = as_auditor.get(at("hold", given.given_hold(record.heat))).text
    for thing in (record.reel, record.wound, record.piece, record.assembly):
        assert thing.code in text


def test_a_hold_on_a_machine_says_what_it_means(as_auditor, record):
    assert "no new test on it can support" in as_auditor.get(at("hold", record.hold)).text


def test_only_the_qa_officer_releases_a_hold(as_stores, as_quality, record):
    assert as_stores.post(at("release_hold", record.hold), {"reason": "x"}).status_code == 403
    as_quality.post(at("release_hold", record.hold), {"reason": "calibrated anew"})
    record.hold.refresh_from_db()
    assert record.hold.release_reason == "calibrated anew"


def test_a_released_hold_is_listed_among_the_released(as_quality, record):
    release = {"reason": "calibrated anew"}
    as_quality.post(at("release_hold", record.hold), release, follow=True)
    assert record.hold.code not in as_quality.get("/holds/").text
    assert record.hold.code in as_quality.get("/holds/?state=released").text
    assert record.hold.code in as_quality.get("/holds/?state=all").text


def test_a_hold_is_released_once(as_quality, record):
    for reason in ("calibrated anew", "kept as typed"):
        answer = as_quality.post(at("release_hold", record.hold), {"reason": reason})
    assert "is released already" in answer.text
    assert "kept as typed" in answer.text
