"""Wires as their testers type them, and what the pages say of them."""

import pytest
from django.urls import reverse

from certs.models import WireTest
from tests.certs.papers import given_cut_length_draft, given_documented_reel, issued
from tests.certs.wires import given_paper_test, given_wire_machine, given_wire_test, wires_of_7x7
from tests.factories import given_machine, given_piece, given_sample

RECORD = "certs:record_wires"
TYPED = "\n".join(
    (
        "Layer\tDiameter\tForce\tStands for",
        *(["outer strand\t1,33\t2640\t6"] * 6),
        "centre wires\t1,33\t2640\t6",
        "core strand\t1,33\t2640\t7",
    )
)
WEAK = wires_of_7x7(1500)


@pytest.fixture
def reel(tables):
    return given_documented_reel()


def asked(reel, **typed):
    facts = {
        "method": "after_unlaying",
        "sample": given_sample(reel=reel).code,
        "machine": str(given_wire_machine().pk),
        "tested_at": "2026-03-02T09:30",
        "wires": TYPED,
        "spinning_factors": "0,93; 0,92; 0,94",
        "spinning_source": "type test report 12 (invented)",
    }
    return {**facts, **typed}


def page(test):
    return reverse("certs:wire_test", args=[test.code])


def test_wires_are_typed_a_line_each_with_tabs_and_commas(as_bench, reel):
    answer = as_bench.post(reverse(RECORD), asked(reel), follow=True)
    test = WireTest.objects.get()
    assert (test.outcome, test.sum_n) == ("meets", 49 * 2640)
    assert f"{test.code} is recorded: the calculated force meets" in answer.text
    assert "119.011 kN" in answer.text  # 49 x 2640 N x 0.92, down to the newton
    assert "lowest of 0.93, 0.92, 0.94" in answer.text


def test_the_decimals_of_a_force_are_kept_and_shown(as_bench, reel):
    wires = TYPED.replace("2640\t7", "2640,125\t7\t2.6411 kN")
    answer = as_bench.post(reverse(RECORD), asked(reel, wires=wires), follow=True)
    wire = WireTest.objects.get().wires.get(position=8)
    assert (wire.force_mn, wire.retest_force_mn) == (2_640_125, 2_641_100)
    assert "2640.125 N" in answer.text
    assert "2641.1 N" in answer.text
    # 42 x 2640 and 7 x 2640.125 N: stated to the newton, worked with all of it.
    assert "129360.875" in answer.text
    assert WireTest.objects.get().sum_n == 129_361


def test_lines_at_fault_are_named_and_everything_typed_is_kept(as_bench, reel):
    wires = "outer; 1.33; 2640\nouter; thick; 2640\nouter; 1.33"
    answer = as_bench.post(reverse(RECORD), asked(reel, wires=wires, note="cut by hand"))
    assert not WireTest.objects.exists()
    assert "Line 2:" in answer.text
    assert "Line 3:" in answer.text
    assert "outer; thick; 2640\nouter; 1.33" in answer.text
    assert 'value="cut by hand"' in answer.text
    assert 'value="0,93; 0,92; 0,94"' in answer.text


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        pytest.param({"wires": ""}, "Enter “Wires”; it cannot be left empty.", id="no wires"),
        pytest.param({"wires": "outer"}, "Give one wire a line", id="a heading alone"),
        pytest.param({"spinning_factors": "most"}, "is no factor", id="a word for a factor"),
        pytest.param({"sample": ""}, "Name the sample", id="no sample"),
        pytest.param({"method": "before_laying", "sample": ""}, "Name the reel", id="no reel"),
        pytest.param({"wires": "outer; 1.33; 2640; 60"}, "at most 49", id="too many wires"),
    ],
)
def test_what_cannot_be_is_told_at_its_field(as_bench, reel, typed, words):
    answer = as_bench.post(reverse(RECORD), asked(reel, **typed))
    assert not WireTest.objects.exists()
    assert words in answer.text


def test_the_address_suggests_what_was_tested(as_bench, reel):
    answer = as_bench.get(f"{reverse(RECORD)}?reel={reel.code}")
    assert f'value="{reel.code}"' in answer.text


def test_the_page_shows_every_wire_against_its_band(as_auditor, reel):
    wires = (*wires_of_7x7()[:5], WEAK[0], *wires_of_7x7()[6:])
    test = given_wire_test(reel=reel, wires=wires)
    text = as_auditor.get(page(test)).text
    assert "Outside their band: wire 6." in text
    assert "1770 to 2090 N/mm²" in text  # EN 10264-1:2002 Table 1, 1.0 to 1.5 mm: +320
    assert "not judged" in text
    assert "enter it from your copy of the standard" in text
    assert "Reverse it" not in text


def test_falling_short_asks_for_a_break(as_bench, reel):
    test = given_wire_test(reel=reel, wires=WEAK)
    for address in (page(test), reverse("certs:reel_strength", args=[reel.code])):
        text = as_bench.get(address).text
        assert "Break a sample of the rope (method 1)" in text
        assert test.code in text
    assert "Record a break of the rope" in as_bench.get(page(test)).text


def test_a_test_by_paper_has_no_machine(as_auditor, reel):
    text = as_auditor.get(page(given_paper_test(reel))).text
    assert "Wire report 7 (invented)" in text
    assert "<h2>Testing machine</h2>" not in text


def test_a_test_without_a_factor_shows_its_sum_alone(as_auditor, reel):
    text = as_auditor.get(page(given_wire_test(reel=reel, factors=()))).text
    assert "none: no spinning-loss factor was named" in text
    assert "Sum of wire forces after unlaying (method 2)" in text


def test_a_machine_in_doubt_is_told(as_auditor, reel):
    test = given_wire_test(reel=reel, machine=given_machine(is_calibrated=False))
    assert "This test supports no certificate" in as_auditor.get(page(test)).text
    assert "supports no certificate" in as_auditor.get(reverse("certs:wire_tests")).text


def test_the_list_tells_tests_of_both_methods(as_auditor, reel):
    given_wire_test(reel=reel)
    given_paper_test(reel)
    text = as_auditor.get(reverse("certs:wire_tests")).text
    assert "2, from the rope" in text
    assert "3, before laying" in text
    assert "Wire report 7 (invented)" in text


def test_wires_taken_back_say_so(as_quality, reel):
    test = given_wire_test(reel=reel)
    address = reverse("certs:reverse_test", args=[test.code])
    assert "Reverse this test" in as_quality.get(address).text
    answer = as_quality.post(address, {"reason": "wires of another sample"})
    assert answer["Location"] == page(test)
    assert "It counts for nothing" in as_quality.get(page(test)).text
    assert "reversed" in as_quality.get(reverse("certs:wire_tests")).text


@pytest.mark.usefixtures("plain_paper")
def test_a_paper_tells_the_wire_tests_of_its_rope(as_quality, reel):
    test = given_wire_test(reel=reel)
    paper = issued(given_cut_length_draft(given_piece(reel=reel)))
    text = as_quality.get(reverse("certs:certificate", args=[paper.number])).text
    assert "Wire tests: calculated forces, which change nothing of the certified one" in text
    assert test.code in text


def test_the_story_of_a_reel_tells_its_wire_tests(as_quality, reel):
    test = given_wire_test(reel=reel, wires=WEAK)
    story = reverse("certs:trace")
    text = as_quality.get(story, {"code": reel.code}).text
    assert test.code in text
    assert "falls short" in text
    as_quality.post(reverse("certs:reverse_test", args=[test.code]), {"reason": "another reel"})
    assert "reversed" in as_quality.get(story, {"code": test.code}).text
