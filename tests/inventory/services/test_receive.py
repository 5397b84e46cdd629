from datetime import date, timedelta

import pytest

from inventory.documents.upload import UnfitFile
from inventory.models import Heat, MillDocument, Reel
from inventory.queries.kept_files import read_file
from inventory.rules.designation import DesignationError
from inventory.rules.refusal import Refusal
from inventory.services import receive
from inventory.services.receive import CannotReceive, HeatTie
from tests.factories import (
    MOMENT,
    given_customer,
    given_fitting_maker,
    given_heat,
    given_mill,
    given_mill_document,
    given_reel,
    pdf_bytes,
)
from tests.inventory.services.record import last_entry, refuses

pytestmark = pytest.mark.django_db


def record(by, **facts):
    asked = {"number": " 7 ", "steel_name": "C78D", "analysis": {"C": " 0,78 "}}
    return receive.record_heat(**(asked | facts), by=by, at=MOMENT)


def test_a_heat_keeps_its_analysis_as_printed(stores_hand):
    heat = record(stores_hand, mill=given_mill())
    assert (heat.code, heat.number, heat.analysis) == ("H-00001", "7", {"C": "0.78"})
    detail = {"mill": "M-00001", "number": "7", "steel": "C78D", "analysis": {"C": "0.78"}}
    assert last_entry() == ("record_heat", "H-00001", detail)


def test_a_maker_of_fittings_has_heats_too(stores_hand):
    assert record(stores_hand, mill=given_fitting_maker()).mill.kind == "fitting_maker"


@pytest.mark.parametrize(
    ("facts", "why"),
    [
        ({"number": ""}, "Number"),
        ({"steel_name": ""}, "Steel name"),
        ({"analysis": {"Xx": "1"}}, "no element"),
        ({"number": "40001"}, "recorded already"),
    ],
    ids=["no number", "no steel", "no element", "twice"],
)
def test_an_unfit_heat_is_refused(stores_hand, facts, why):
    mill = given_heat().mill
    with refuses(Refusal, why):
        record(stores_hand, mill=mill, **facts)


def test_a_customer_has_no_heats(stores_hand):
    customer = given_customer()
    with refuses(CannotReceive, "is a customer"):
        record(stores_hand, mill=customer)


def file(by, **facts):
    asked = {
        "number": " A-1 ",
        "kind": "3.1",
        "form": "copy",
        "issued_date": date(2026, 1, 1),
        "validated_by": " head of inspection ",
        "content": pdf_bytes(),
        "file_name": "A-1.pdf",
    }
    return receive.file_mill_document(**(asked | facts), by=by, at=MOMENT)


def test_a_document_is_filed_with_its_scan(stores_hand):
    document = file(stores_hand, mill=given_mill())
    assert (document.code, document.number, document.kind) == ("D-00001", "A-1", "3.1")
    assert (document.form, document.validated_by) == ("copy", "head of inspection")
    assert read_file(document.file) == pdf_bytes()
    act, subject, detail = last_entry()
    assert (act, subject) == ("file_mill_document", "D-00001")
    assert (detail["sha256"], detail["issued"]) == (document.file.sha256, "2026-01-01")


@pytest.mark.parametrize(
    ("facts", "error", "why"),
    [
        ({"number": ""}, CannotReceive, "Number"),
        ({"number": "MD-1"}, CannotReceive, "filed for this mill already"),
        ({"kind": "4.0"}, CannotReceive, "Kind"),
        ({"form": "fax"}, CannotReceive, "Form"),
        ({"content": b"<html>"}, UnfitFile, "neither a PDF"),
        ({"issued_date": MOMENT.date() + timedelta(days=1)}, CannotReceive, "in the future"),
    ],
    ids=["no number", "twice", "unknown type", "unknown form", "no scan", "of tomorrow"],
)
def test_an_unfit_document_is_refused(stores_hand, facts, error, why):
    mill = given_mill_document().mill
    with refuses(error, why):
        file(stores_hand, mill=mill, **facts)


def test_a_document_of_today_is_accepted(stores_hand):
    assert file(stores_hand, mill=given_mill(), issued_date=MOMENT.date()).pk


def test_today_is_the_day_of_the_house_not_of_greenwich(stores_hand, settings):
    settings.TIME_ZONE = "Pacific/Pago_Pago"  # eleven hours behind: still the day before
    mill = given_mill()
    with refuses(CannotReceive, "in the future"):
        file(stores_hand, mill=mill, issued_date=MOMENT.date())


def test_a_customer_has_no_mill_documents(stores_hand):
    customer = given_customer()
    with refuses(CannotReceive, "is a customer"):
        file(stores_hand, mill=customer)


def take_in(by, **facts):
    asked = {
        "designation": "12 7x7 1770 B sZ",
        "mill_reel_number": " 99 ",
        "length_mm": 500_000,
        "mill_document": None,
        "location": " Bay 3 ",
        "marked_grade": "1770",
        "declared_force_n": 84_600,
        "declared_mass_g_per_100m": 54_000,
        "marking": "paint mark",
        "lay_length_um": 76_200,
    }
    return receive.receive_reel(**(asked | facts), by=by, at=MOMENT)


def test_a_reel_is_described_by_its_designation(stores_hand):
    heat = given_heat()
    document = given_mill_document(mill=heat.mill)
    reel = take_in(stores_hand, mill=heat.mill, heats=[HeatTie(heat)], mill_document=document)
    reel.refresh_from_db()
    assert (reel.designation, reel.diameter_nm) == ("12 6x7-WSC 1770 B sZ", 12_000_000)
    assert (reel.construction, reel.rope_core, reel.grade) == ("6x7", "WSC", "1770")
    assert (reel.finish, reel.lay, reel.assumed_parts) == ("B", "sZ", ["core"])
    assert (reel.origin, reel.location, reel.mill_reel_number) == ("mill", "Bay 3", "99")
    assert (reel.declared_force_n, reel.declared_mass_g_per_100m) == (84_600, 54_000)
    assert reel.lay_length_um == 76_200
    act, subject, detail = last_entry()
    assert (act, subject, detail["length_mm"]) == ("receive_reel", reel.code, 500_000)
    assert detail["heats"] == [{"heat": heat.code, "from_mm": None, "to_mm": None}]
    assert detail["mill_document"] == document.code
    assert detail["lay_length_um"] == 76_200


def test_a_lay_typed_in_inches_stays_beside_the_record(stores_hand):
    heat = given_heat()
    # An inch is 25.4 mm by definition.
    typed = {"lay_length_um": "3 in"}
    reel = take_in(stores_hand, mill=heat.mill, heats=[HeatTie(heat)], as_given=typed)
    assert (reel.lay_length_um, reel.as_given) == (76_200, typed)


def test_heats_lie_side_by_side_on_a_reel(stores_hand):
    one, two = given_heat(), given_heat()
    ties = [
        HeatTie(one, 0, 200_000),
        HeatTie(two, 200_000, 500_000),
        HeatTie(one, 400_000, 500_000),
    ]
    reel = take_in(stores_hand, mill=one.mill, heats=ties)
    found = reel.heat_ties.order_by("pk").values_list("heat__number", "from_mm", "to_mm")
    assert list(found) == [
        (one.number, 0, 200_000),
        (two.number, 200_000, 500_000),
        (one.number, 400_000, 500_000),
    ]


WRONG_TIES = {
    "none": (lambda _: [], "at least one heat"),
    "past the end": (lambda heat: [HeatTie(heat, 0, 500_001)], "past the end"),
    "half a stretch": (lambda heat: [HeatTie(heat, 5, None)], "both ends"),
    "the other half": (lambda heat: [HeatTie(heat, None, 5)], "both ends"),
    "backwards": (lambda heat: [HeatTie(heat, 9, 5)], "must end after"),
    "whole and in part": (lambda heat: [HeatTie(heat), HeatTie(heat, 5, 9)], "named twice"),
    "overlapping itself": (
        lambda heat: [HeatTie(heat, 0, 9), HeatTie(heat, 8, 12)],
        "named twice",
    ),
    "of another mill": (
        lambda _: [HeatTie(given_heat(mill=given_mill("Other Invented Mill")))],
        "of another mill",
    ),
}


@pytest.mark.parametrize(("ties", "why"), list(WRONG_TIES.values()), ids=WRONG_TIES)
def test_heats_that_cannot_be_are_refused(stores_hand, ties, why):
    heat = given_heat()
    heats = ties(heat)
    with refuses(Refusal, why):
        take_in(stores_hand, mill=heat.mill, heats=heats)


@pytest.mark.parametrize(
    ("facts", "error", "why"),
    [
        ({"designation": "12 6x7-WSC"}, DesignationError, "grade"),
        ({"length_mm": 0}, CannotReceive, "Give the length"),
        ({"length_mm": -1}, CannotReceive, "Give the length"),
        ({"declared_force_n": 0}, CannotReceive, "more than nothing"),
        ({"declared_mass_g_per_100m": 0}, CannotReceive, "more than nothing"),
        ({"marking": "m" * 201}, CannotReceive, "Marking"),
        ({"lay_length_um": 11_999}, CannotReceive, "no lay length"),
        ({"lay_length_um": 360_001}, CannotReceive, "no lay length"),
    ],
    ids=[
        "no grade",
        "no length",
        "less than none",
        "no force",
        "no mass",
        "long marking",
        "lay below d",
        "lay above 30 d",
    ],
)
def test_an_unfit_reel_is_refused(stores_hand, facts, error, why):
    heat = given_heat()
    with refuses(error, why):
        take_in(stores_hand, mill=heat.mill, heats=[HeatTie(heat)], **facts)


def test_a_reel_comes_from_a_mill(stores_hand):
    maker = given_fitting_maker()
    heat = given_heat(mill=maker)
    with refuses(CannotReceive, "is no mill"):
        take_in(stores_hand, mill=maker, heats=[HeatTie(heat)])


def test_a_document_of_another_mill_is_refused(stores_hand):
    heat, document = given_heat(), given_mill_document(mill=given_mill("Other Invented Mill"))
    with refuses(CannotReceive, "another mill"):
        take_in(stores_hand, mill=heat.mill, heats=[HeatTie(heat)], mill_document=document)


def test_a_reel_is_moved_and_nothing_else(stores_hand):
    reel = given_reel()
    before = Reel.objects.values().get()
    moved = receive.move_reel(reel=reel, location=" Bay 9 ", by=stores_hand, at=MOMENT)
    assert Reel.objects.values().get() == before | {"location": "Bay 9"}
    assert last_entry() == ("move_reel", moved.code, {"location": "Bay 9"})


@pytest.mark.parametrize(
    ("location", "why"), [(" ", "where the reel stands"), ("b" * 61, "Location")]
)
def test_a_reel_stands_somewhere(stores_hand, location, why):
    reel = given_reel(location="Bay 1")
    with refuses(CannotReceive, why):
        receive.move_reel(reel=reel, location=location, by=stores_hand, at=MOMENT)
    reel.refresh_from_db()
    assert reel.location == "Bay 1"


def test_factories_number_what_they_make():
    given_reel()
    given_reel()
    assert Heat.objects.values("number").distinct().count() == 2
    assert {given_mill_document().number for _ in range(2)} == {"MD-1", "MD-2"}
    assert MillDocument.objects.count() == 2
