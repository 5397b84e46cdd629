"""Tables, derivations and strengths over the API."""

import pytest

from tests.api import get, post
from tests.certs.claims import given_basis
from tests.certs.slings import given_sling
from tests.factories import ROPE, given_assembly, given_customer, given_piece, given_reel


def test_a_designation_gives_the_force_of_the_standard(qa, tables):
    # EN 12385-2, 3.10: F = K d² Rr / 1000; K = 0.388 for 7x7 (6x7 with a strand core):
    # 0.388 × 12² × 1770 / 1000 = 98.9 kN.
    found = get(qa, "derive/", designation=ROPE)
    assert (found["force"]["stated"], found["force"]["unit"]) == ("98.9", "kN")
    assert found["force"]["source"]["name"]
    assert found["cautions"]


def test_a_named_table_gives_the_value_printed_in_it(qa, tables):
    found = get(qa, "derive/", designation="18 6x7-FC 1960 U sZ", table="API Spec 9A")
    # API Spec 9A (26th ed 2011), Table C.1: 18 mm, 6x7 FC, grade 1960: 211 kN.
    assert (found["force"]["stated"], found["force"]["unit"]) == ("211", "kN")


def test_a_rope_nobody_holds_names_what_is_near(qa, tables):
    answer = qa.get("/api/derive/", {"designation": "12 9x7-WSC 1770 B sZ"})
    assert answer.status_code == 400
    assert answer.json()["problem"]
    assert "known_nearby" in answer.json()


def test_without_tables_it_says_how_to_load_them(qa):
    answer = qa.get("/api/derive/", {"designation": ROPE})
    assert answer.status_code == 409
    assert "load_specifications" in answer.json()["problem"]


def test_the_tables_are_listed_with_what_they_hold(qa, tables):
    found = {row["slug"]: row["rows"] for row in get(qa, "specifications/")["results"]}
    assert found["breaking-force-factors"] > 0
    assert found["breaking-forces"] > 0


def test_a_row_comes_with_source_and_confidence(qa, tables):
    rows = get(qa, "specifications/breaking-force-factors/", words="6x7 WSC")["results"]
    assert [row["values"]["factor_k"] for row in rows] == ["0.388"]
    assert all(row["source"] and row["confidence"] for row in rows)


def test_a_table_that_is_not_there_is_not_found(qa, tables):
    assert qa.get("/api/specifications/wishes/").status_code == 404


def test_an_agreement_is_entered_and_listed(qa, tables):
    body = {
        "name": "Agreed 12",
        "edition": "1",
        "agreed_with": given_customer().code,
        "paper": "Letter 7",
        "designation": ROPE,
        "force_n": 90_000,
        "mass_minus_pct": "2",
        "mass_plus_pct": "4.5",
    }
    made = post(qa, "agreed-specifications/", body)
    assert made["force_n"] == 90_000
    assert (made["mass_minus_pct"], made["mass_plus_pct"]) == ("2", "4.5")
    assert [row["name"] for row in get(qa, "agreed-specifications/")["results"]] == ["Agreed 12"]


def test_a_reel_without_a_basis_says_what_may_be_named(qa, tables):
    reel = given_reel()
    answer = qa.get(f"/api/reels/{reel.code}/strength/")
    assert answer.status_code == 400
    assert "No basis of strength is named" in answer.json()["problem"]


def test_the_lowest_suggestion_can_be_named_by_its_key(qa, tables):
    reel = given_reel()
    lowest = get(qa, f"reels/{reel.code}/bases/")[0]
    body = {name: lowest[name] for name in ("kind", "factor", "tabulated", "agreed")}
    made = post(qa, f"reels/{reel.code}/bases/", body | {"reason": "the lowest held"})
    assert made["kind"] == lowest["kind"]
    strength = get(qa, f"reels/{reel.code}/strength/")
    assert strength["basis"]["reason"] == "the lowest held"
    assert strength["force"]["unit"] == "kN"


def test_a_basis_of_another_rope_is_refused(qa, tables):
    key = get(qa, "specifications/breaking-force-factors/", words="6x19 FC")["results"][0]["key"]
    body = {"kind": "factor", "factor": key, "reason": "by mistake"}
    answer = qa.post(f"/api/reels/{given_reel().code}/bases/", body, format="json")
    assert answer.status_code in {400, 409}
    assert answer.json()["problem"]


def test_an_assembly_tells_its_weakest_link_and_its_loads(qa, tables):
    reel = given_reel()
    given_basis(reel)
    assembly = given_assembly(pieces=[given_piece(reel=reel)])
    found = get(qa, f"assemblies/{assembly.code}/strength/")
    assert found["problems"] == []
    # EN 13411-3: a ferrule-secured eye keeps 0.9 of the rope; 98.9 × 0.9 = 89.0 kN.
    assert found["force"]["stated"] == "89.0"
    assert found["loads"]
    assert found["cautions"]


def test_an_assembly_that_cannot_be_rated_says_why_and_rates_nothing(qa, tables):
    found = get(qa, f"assemblies/{given_assembly().code}/strength/")
    assert (found["force"], found["loads"]) == (None, [])
    assert found["problems"]


@pytest.mark.parametrize("path", ["reels/R-99999/strength/", "assemblies/A-99999/strength/"])
def test_what_is_not_there_is_not_found(qa, path):
    assert qa.get(f"/api/{path}").status_code == 404


def test_a_sling_tells_its_convention_build_and_proof_rules(qa, tables):
    assembly = given_sling(convention="from_horizontal", legs=2, kind="two_leg", clear_mm=120)
    found = get(qa, f"assemblies/{assembly.code}/strength/")
    assert (found["use"], found["convention"]) == ("lifting", "from_horizontal")
    # 90.7 kN x 0.95 / (5 x 9.81) = 1.75 t; x 2 sin 60, 45, 30, by hand, each rounded down.
    assert [load["governing_t"] for load in found["loads"]] == ["3.03", "2.47", "1.75"]
    assert {load["angle_from"] for load in found["loads"]} == {"from_horizontal"}
    assert found["leg"]["governing_t"] == "1.75"
    verdicts = {one["topic"]: one["verdict"] for one in found["findings"]}
    assert verdicts == {"Clear rope": "agree", "Bearing": "cannot_say"}
    first = found["proof_rules"][0]
    assert (first["applies"], first["asked"][0]["proof"]["stated"]) == ("yes", "34.335")
    assert found["marks"] == []


@pytest.mark.parametrize(("marked", "may"), [("1.66", True), ("1.67", False)])
def test_a_load_to_be_marked_is_held_against_what_governs(qa, tables, marked, may):
    # 90.7 kN x 0.90 / (5 x 9.81) = 1.66 t, by hand; EN 13414-1:2003 Table 4 prints 1.7 t.
    assembly = given_sling()
    found = get(qa, f"assemblies/{assembly.code}/strength/", marked_t=marked)
    assert [one["may_be_marked"] for one in found["marks"]] == [may]
    assert found["loads"][0]["printed_off_formula"] == "+2.1 %"


def test_a_lay_as_measured_judges_the_soft_eyes(qa, tables):
    assembly = given_sling(eye_mm=299)
    found = get(qa, f"assemblies/{assembly.code}/strength/", lay_mm="75")
    assert found["loads"] == []
    assert "at least 300 mm" in found["problems"][0]


@pytest.mark.parametrize("asked", [{"marked_t": "0"}, {"marked_t": "much"}, {"lay_mm": "-1"}])
def test_a_figure_that_cannot_be_is_refused(qa, tables, asked):
    answer = qa.get(f"/api/assemblies/{given_sling().code}/strength/", asked)
    assert answer.status_code == 400
