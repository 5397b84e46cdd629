"""Assemblies, deliveries, holds and machines over the API; and the journal that knows of all."""

from hashlib import sha256

import pytest

from tests.api import get, post
from tests.factories import (
    given_assembly,
    given_customer,
    given_fitting_lot,
    given_hold,
    given_machine,
    given_piece,
    given_reel,
)

CALIBRATION = {
    "certificate_number": "CAL 7",
    "laboratory": "Invented Laboratory",
    "calibrated_date": "2020-01-10",
    "due_date": "2021-01-09",
    "machine_class": "1",
    "range_from_n": 5_000,
    "range_to_n": 500_000,
}


def eye(end, lot):
    fitted = [{"lot": lot.code, "quantity": 1}]
    return {"end": end, "kind": "ferrule_secured_eye", "fittings": fitted}


def leg(piece, lot):
    return {"piece": piece.code, "terminations": [eye("near", lot), eye("far", lot)]}


def test_an_assembly_is_built_of_pieces_and_fittings(stores):
    piece, lot = given_piece(), given_fitting_lot()
    made = post(stores, "assemblies/", {"kind": "one_leg", "pieces": [leg(piece, lot)]})
    assert [tie["piece"] for tie in made["pieces"]] == [piece.code]
    ends = made["pieces"][0]["terminations"]
    assert {end["end"]: end["fittings"] for end in ends} == {
        "near": [{"lot": lot.code, "quantity": 1}],
        "far": [{"lot": lot.code, "quantity": 1}],
    }


def test_an_assembly_keeps_purpose_and_sizes(stores):
    piece, lot = given_piece(), given_fitting_lot()
    asked = leg(piece, lot) | {"clear_mm": 800}
    asked["terminations"][0]["eye_mm"] = 310
    facts = {"convention": "from_horizontal", "market_date": "2026-12-01", "bend_mm": 30}
    made = post(stores, "assemblies/", {"kind": "one_leg", "pieces": [asked], **facts})
    assert {name: made[name] for name in facts} == facts
    assert (made["use"], made["pieces"][0]["clear_mm"]) == ("lifting", 800)
    assert made["pieces"][0]["terminations"][0]["eye_mm"] == 310


def test_more_fittings_than_there_are_is_refused(stores):
    piece, lot = given_piece(), given_fitting_lot(quantity=1)
    body = {"kind": "one_leg", "pieces": [leg(piece, lot)]}
    answer = stores.post("/api/assemblies/", body, format="json")
    assert answer.status_code == 400
    assert answer.json()["field"] == "fittings"


def test_a_delivery_takes_pieces_and_assemblies(stores):
    piece, assembly = given_piece(), given_assembly()
    body = {"customer": given_customer().code, "pieces": [piece.code]}
    made = post(stores, "deliveries/", body | {"assemblies": [assembly.code]})
    assert made["items"] == [
        {"piece": piece.code, "assembly": None},
        {"piece": None, "assembly": assembly.code},
    ]
    assert get(stores, f"pieces/{piece.code}/")["delivery"] == made["code"]


def test_nothing_leaves_twice(stores):
    body = {"customer": given_customer().code, "pieces": [given_piece().code]}
    post(stores, "deliveries/", body)
    answer = stores.post("/api/deliveries/", body, format="json")
    assert answer.status_code == 400
    assert "V-00001" in answer.json()["problem"]


def test_a_hold_is_placed_on_a_stretch_and_released(qa):
    reel = given_reel()
    body = {"subject": reel.code, "reason": "bird-cage", "from_mm": 1_000, "to_mm": 2_000}
    made = post(qa, "holds/", body)
    assert (made["subject"], made["from_mm"], made["released_at"]) == (reel.code, 1_000, None)
    released = post(qa, f"holds/{made['code']}/release/", {"reason": "cut out"})
    assert released["release_reason"] == "cut out"
    assert released["released_at"]


@pytest.mark.parametrize("subject", ["C-00001", "R-99999", "broken rope", ""])
def test_a_hold_on_what_cannot_be_held_is_a_fault_of_that_input(qa, subject):
    given_customer()
    answer = qa.post("/api/holds/", {"subject": subject, "reason": "doubt"}, format="json")
    assert (answer.status_code, list(answer.json())) == (400, ["subject"])


def test_holds_are_listed_by_whether_they_stand(qa):
    standing, released = given_hold(given_reel()), given_hold(given_reel())
    post(qa, f"holds/{released.code}/release/", {"reason": "settled"})

    def codes(**asked):
        return [row["code"] for row in get(qa, "holds/", **asked)["results"]]

    assert codes(is_released="false") == [standing.code]
    assert codes(is_released="true") == [released.code]
    assert set(codes()) == {standing.code, released.code}


def test_a_machine_is_registered_and_calibrated(qa):
    machine = post(qa, "machines/", {"name": "Bench", "serial_number": "SN 7"})
    assert machine["due_date"] is None
    post(qa, f"machines/{machine['code']}/calibrations/", CALIBRATION)
    assert get(qa, f"machines/{machine['code']}/")["due_date"] == "2021-01-09"
    found = get(qa, f"machines/{machine['code']}/calibrations/")
    assert [row["range_to_n"] for row in found["results"]] == [500_000]


def test_a_calibration_with_its_range_upside_down_is_refused(qa):
    machine = given_machine(is_calibrated=False)
    body = CALIBRATION | {"range_to_n": 1}
    answer = qa.post(f"/api/machines/{machine.code}/calibrations/", body, format="json")
    assert (answer.status_code, answer.json()["field"]) == (400, "range_to_n")


def test_the_journal_can_be_checked_from_what_the_api_gives(qa):
    given_piece()
    entries = get(qa, "journal/", limit=500)["results"][::-1]
    # RFC 9162, 2.1.1: the hash of nothing, and a leaf marked 0x00; our own links are marked 0x02.
    chained = sha256(b"").digest()
    for number, entry in enumerate(entries):
        leaf = sha256(b"\x00" + entry["canonical"].encode()).digest()
        chained = sha256(b"\x02" + chained + leaf).digest()
        assert (entry["number"], entry["leaf_hash"]) == (number, leaf.hex())
        assert entry["chain_hash"] == chained.hex()


def test_an_entry_of_the_journal_is_found_by_its_number_and_its_subject(qa):
    piece = given_piece()
    found = get(qa, "journal/", subject=piece.code)["results"]
    assert [entry["act"] for entry in found] == ["cut_piece"]
    assert get(qa, f"journal/{found[0]['number']}/") == found[0]


def test_a_page_is_never_longer_than_five_hundred(qa):
    given_reel()
    answer = qa.get("/api/journal/", {"limit": 10**30, "offset": 0})
    assert "limit=500" in (answer.json()["next"] or "limit=500")
    assert qa.get("/api/journal/", {"offset": 10**30}).json()["results"] == []
