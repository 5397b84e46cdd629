"""What the page of an assembly's strength says of build, convention, marks and proof rules."""

import re
from datetime import date

import pytest
from django.urls import reverse

from tests.certs.claims import given_proof_test
from tests.certs.papers import given_assembly_draft, given_certifiable_assembly
from tests.certs.slings import given_rope, given_sling
from tests.words import words_of

pytestmark = pytest.mark.usefixtures("tables")


def page_of(client, assembly, **query):
    return client.get(reverse("certs:assembly_strength", args=[assembly.code]), query).text


def test_convention_and_difference_stand_beside_every_load(as_auditor):
    text = page_of(as_auditor, given_sling(kind="two_leg", legs=2))
    assert text.count("EN 13414-1, angles counted from the vertical") >= 2
    # EN 13414-1:2003 Table 4 prints 2.3 t for 12 mm; 90.7 x 0.9 x 1.4 / 49.05 = 2.3299; - 1.3 %.
    assert "−1.3 %" in text


def test_an_american_sling_is_told_in_pounds_and_as_provisional(as_auditor):
    text = page_of(as_auditor, given_sling(convention="from_horizontal"))
    # 1.75 t / 0.45359237 = 3858 lb, rounded down to three figures.
    assert "3850 lb" in text
    assert "from memory: treat these loads as provisional" in text


def test_a_disagreement_stands_in_the_way_and_is_told_first(as_auditor):
    text = page_of(as_auditor, given_sling(bend_mm=12))
    assert "Nothing is rated." in text
    assert text.index("does not agree</span>") < text.index("cannot be said</span>")
    assert "at least 24 mm" in text


@pytest.mark.parametrize(
    ("marked", "words"),
    [("1.66", "1.66 t may be marked"), ("1.67", "1.67 t may not be marked: the formula value")],
)
def test_a_load_to_be_marked_is_judged(as_auditor, marked, words):
    assert words in page_of(as_auditor, given_sling(), marked_t=marked)


def test_the_lay_on_record_judges_the_eyes_and_one_typed_beside_it_is_spoken_of(as_auditor):
    assembly = given_sling(reel=given_rope(lay_length_um=75_500), eye_mm=302)
    told = page_of(as_auditor, assembly, lay_mm="80")
    assert "302 mm all round; at least 320 mm is asked for." in told
    assert "recorded with 75.5 mm and 80 mm was typed; the longer one counts" in words_of(told)
    assert "recorded with the reel" in page_of(as_auditor, assembly)


def test_what_is_no_figure_is_said_at_its_field(as_auditor):
    text = page_of(as_auditor, given_sling(), marked_t="much")
    assert "Write a number, such as 12" in text
    assert "may be marked" not in text


def test_a_static_suspension_has_no_working_load(as_auditor):
    assembly = given_sling(kind="rope_with_ends", end="u_bolt_grips", use="static")
    text = page_of(as_auditor, assembly)
    assert "It is for static suspension" in text
    assert "How many this size needs is not held" in text
    assert "saddle on the live rope" in text


@pytest.mark.parametrize(
    ("day", "shown", "hidden"),
    [
        (date(2026, 12, 1), "Machinery Directive 2006/42/EC", "Machinery Regulation"),
        (date(2027, 2, 1), "Machinery Regulation (EU) 2023/1230", "Machinery Directive"),
    ],
)
def test_the_law_of_the_market_day_is_told_here_and_beside_the_test(as_bench, day, shown, hidden):
    assembly = given_sling(market_date=day)
    beside = f"{reverse('certs:record_proof')}?assembly={assembly.code}"
    for text in (page_of(as_bench, assembly), as_bench.get(beside).text):
        assert shown in text
        assert hidden not in text


def test_the_proof_load_is_told_against_the_rules(as_auditor):
    assembly = given_sling(market_date=date(2026, 12, 1))
    given_proof_test(assembly=assembly, required_n=30_000)
    # 1.5 x 1.66 t x 9.81 = 24.427 kN, from memory of 2006/42/EC Annex I 4.1.2.3.
    told = re.sub("<[^>]+>", "", page_of(as_auditor, assembly))
    assert "30 kN was put on; at least 24.427 kN is asked for." in told


def test_the_draft_tells_build_and_rules_as_the_paper_will(as_quality):
    draft = given_assembly_draft(given_certifiable_assembly(), kind="2.1")
    text = as_quality.get(reverse("certs:certificate", args=[draft.draft_code])).text
    assert "How it was built" in text
    assert "Rules on proof loads" in text


def test_an_american_sling_is_told_in_tonnes_and_pounds(as_auditor):
    sling = given_sling(legs=2, kind="two_leg", convention="from_horizontal")
    page = as_auditor.get(reverse("certs:assembly_strength", args=[sling.code]))
    # 90.7 kN x 0.95 / (5 x 9.81) = 1.75 t; x 2 sin 60 = 3.03 t; 3030 / 0.45359237 = 6680.0.
    assert "In lb, rounded down" in page.text
    assert "6680" in page.text
    assert "none held" not in page.text
