from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection

from certs.models import ReceivingCheck
from certs.queries.receiving import Measured
from certs.services.check_reel import CannotCheck
from certs.services.load_specifications import load_specifications
from certs.services.receive_checked import receive_checked_goods, receive_checked_reel
from inventory.models import Heat, Hold, MillDocument, NumberSeries, Reel
from inventory.rules.roles import Role
from inventory.services.authority import NotAllowed
from inventory.services.goods_in import HeatNamed
from inventory.services.receive import HeatTie
from tests.certs.checks import EN, finding, given_check, readings
from tests.certs.claims import FOLDER
from tests.factories import MOMENT, ROPE, given_heat, given_mill, given_person
from tests.inventory.services.test_goods_in import paper


def received(**changed):
    facts = {
        "designation": ROPE,
        "mill": given_mill(),
        "mill_reel_number": "K-1",
        "length_mm": 100_000,
        "location": "",
        "marked_grade": "1770",
        "declared_force_n": None,
        "declared_mass_g_per_100m": None,
        "marking": "",
        "measured": Measured(),
        "by": given_person(Role.STORES),
        "at": MOMENT,
    }
    return {**facts, **changed}


def test_a_number_that_was_received_before_is_found(tables):
    mill, heat = given_mill(), given_heat()
    ties = {"heats": [HeatTie(heat)], "mill_document": None}
    first = receive_checked_reel(**received(mill=mill, **ties))
    second = receive_checked_reel(**received(mill=mill, **ties))
    assert finding(first, "Mill reel number")["verdict"] == "agree"
    assert finding(second, "Mill reel number")["verdict"] == "disagree"
    assert f"received already as {first.reel.code}" in finding(second, "Mill reel number")["text"]
    assert second.hold.reel == second.reel
    again = given_check(first.reel)
    assert finding(again, "Mill reel number")["verdict"] == "agree"


def test_goods_are_received_and_checked_as_one_whole(tables):
    check = receive_checked_goods(
        **received(measured=Measured(standard=EN, readings=readings("12.9"))),
        heats=[HeatNamed("4711", "C56D2", {"C": "0.70"})],
        paper=None,
        document_on_file="",
    )
    assert check.reel.mill_reel_number == "K-1"
    assert check.hold.reel == check.reel
    # EN 10016-4:1994, C56D2: carbon 0.54 to 0.58, read.
    assert "C 0.70 % (limit 0.54-0.58)" in finding(check, "Ladle analysis of heat 4711")["text"]


def test_a_check_that_is_refused_receives_nothing(tables):
    counts = {model: model.objects.count() for model in (Reel, Heat, MillDocument, Hold)}
    facts = received(measured=Measured(standard="EN 1"))
    with pytest.raises(CannotCheck, match="No limits of EN 1 are held"):
        receive_checked_goods(
            **facts, heats=[HeatNamed("4711", "C82D")], paper=None, document_on_file=""
        )
    assert {model: model.objects.count() for model in counts} == counts
    assert not NumberSeries.objects.filter(series="R", last__gt=0).exists()


def test_an_auditor_receives_nothing_and_leaves_no_file(tables, auditor, file_store):
    facts = received(by=auditor)
    with pytest.raises(NotAllowed):
        receive_checked_goods(
            **facts, heats=[HeatNamed("4711", "C82D")], paper=paper(), document_on_file=""
        )
    assert not list(file_store.rglob("*.pdf"))


@pytest.mark.skipif(connection.vendor != "postgresql", reason="SQLite lets one writer in at a time")
def test_many_hands_receiving_and_holding_never_wait_for_each_other(committed_db, file_store):
    load_specifications(folder=FOLDER)
    facts = received(measured=Measured(standard=EN, readings=readings("12.9")))
    first = receive_checked_goods(
        **facts, heats=[HeatNamed("1", "C82D")], paper=None, document_on_file=""
    )

    def act(n):
        try:
            if n % 2:
                given_check(first.reel, standard=EN, readings=readings("12.9"))
            else:
                heats = [HeatNamed(f"5{n}", "C82D")]
                receive_checked_goods(**facts, heats=heats, paper=None, document_on_file="")
        finally:
            connection.close()

    with ThreadPoolExecutor(8) as hands:
        list(hands.map(act, range(24)))
    assert (ReceivingCheck.objects.count(), Hold.objects.count()) == (25, 25)
