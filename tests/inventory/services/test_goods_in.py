from concurrent.futures import ThreadPoolExecutor
from datetime import date

import pytest
from django.db import connection

from inventory.models import Heat, JournalEntry, MillDocument, Reel
from inventory.rules.refusal import Refusal
from inventory.services.authority import NotAllowed
from inventory.services.goods_in import HeatNamed, PaperHandedIn, receive_goods
from inventory.services.receive import CannotReceive, record_heat
from tests import factories as given

NEW_HEAT = HeatNamed("40077", "C78D", {"C": "0.78"})


def paper(**changed):
    facts = {
        "number": "MD-9",
        "kind": "3.1",
        "form": "original",
        "issued_date": date(2026, 1, 15),
        "validated_by": "",
        "content": given.pdf_bytes("MD-9"),
        "file_name": "md9.pdf",
    }
    return PaperHandedIn(**facts | changed)


def receive(**changed):
    facts = {
        "designation": given.ROPE,
        "mill": given.given_mill(),
        "mill_reel_number": "MR-1",
        "length_mm": 100_000,
        "heats": [NEW_HEAT],
        "paper": None,
        "document_on_file": "",
        "location": "",
        "marked_grade": "",
        "declared_force_n": None,
        "declared_mass_g_per_100m": None,
        "marking": "",
        "by": given.given_person(),
        "at": given.MOMENT,
    }
    return receive_goods(**facts | changed)


def test_reel_heat_and_document_are_recorded_together(db, file_store):
    reel = receive(paper=paper())
    assert reel.heat_ties.get().heat.number == "40077"
    assert reel.mill_document.number == "MD-9"
    acts = JournalEntry.objects.order_by("-number").values_list("act", flat=True)[:3]
    assert set(acts) == {"receive_reel", "record_heat", "file_mill_document"}


def test_a_heat_of_the_same_number_from_another_mill_is_another_heat(db):
    elsewhere = given.given_heat(mill=given.given_mill("Another Invented Mill"), number="40077")
    assert receive().heat_ties.get().heat != elsewhere


def test_one_new_heat_may_be_tied_to_two_stretches(db):
    first = HeatNamed("40077", "C78D", {"C": "0.78"}, 0, 40_000)
    reel = receive(heats=[first, HeatNamed("40077", from_mm=60_000, to_mm=100_000)])
    assert reel.heat_ties.count() == 2
    assert Heat.objects.count() == 1


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        pytest.param({"heats": []}, "heats", id="no heat"),
        pytest.param({"heats": [HeatNamed("40077")]}, "heats", id="unknown heat without steel"),
        pytest.param({"document_on_file": "MD-5"}, "document_on_file", id="unknown document"),
        pytest.param(
            {"paper": paper(), "document_on_file": "MD-5"}, "document_on_file", id="two documents"
        ),
        pytest.param({"length_mm": 0, "paper": paper()}, "length_mm", id="no length"),
        pytest.param(
            {"paper": paper(issued_date=date(2030, 1, 1))}, "issued_date", id="a future document"
        ),
    ],
)
def test_what_is_refused_leaves_nothing_behind(changed, field, db, file_store):
    given.given_mill()
    entries = JournalEntry.objects.count()
    with pytest.raises(CannotReceive) as refused:
        receive(**changed)
    assert refused.value.field == field
    assert not Heat.objects.exists()
    assert not MillDocument.objects.exists()
    assert not Reel.objects.exists()
    assert JournalEntry.objects.count() == entries


def test_an_unfit_scan_is_refused(db, file_store):
    with pytest.raises(Refusal, match="neither a PDF"):
        receive(paper=paper(content=b"MZ"))
    assert not Reel.objects.exists()


def test_a_document_of_another_mill_is_not_found(db):
    other = given.given_mill("Another Invented Mill")
    given.given_mill_document(mill=other, number="MD-1")
    with pytest.raises(CannotReceive, match="has no document “MD-1” on file"):
        receive(document_on_file="MD-1")


def test_an_auditor_receives_nothing(auditor, file_store):
    with pytest.raises(NotAllowed):
        receive(by=auditor, paper=paper())
    assert not list(file_store.rglob("*.pdf"))


@pytest.mark.skipif(connection.vendor != "postgresql", reason="SQLite lets one writer in at a time")
def test_many_hands_receiving_at_once_never_wait_for_each_other(committed_db, file_store):
    facts = {"mill": given.given_mill(), "by": given.given_person(), "at": given.MOMENT}
    receive()

    def act(n):
        try:
            if n % 2:
                record_heat(number=f"6{n}", steel_name="C78D", analysis={}, **facts)
            else:
                scan = paper(number=f"MD-{n}", content=given.pdf_bytes(f"{n}"))
                receive(heats=[HeatNamed(f"5{n}", "C78D")], paper=scan, **facts)
        finally:
            connection.close()

    with ThreadPoolExecutor(8) as hands:
        list(hands.map(act, range(24)))
    assert (Reel.objects.count(), Heat.objects.count()) == (13, 25)
