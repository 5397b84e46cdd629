import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from certs.models import BreakingTest, ProofTest
from tests.certs.claims import force_log
from tests.certs.papers import given_certifiable_assembly, given_documented_reel
from tests.factories import given_machine, given_sample

TESTED = "2026-03-02T09:30"


def breaking(**typed):
    facts = {
        "sample": given_sample(reel=given_documented_reel()).code,
        "machine": str(given_machine().pk),
        "tested_at": TESTED,
        "peak_n": "99.5 kN",
        "break_place": "clear",
    }
    return {**facts, **typed}


def proof(**typed):
    facts = {
        "assembly": given_certifiable_assembly().code,
        "machine": str(given_machine().pk),
        "tested_at": TESTED,
        "required_n": "38",
        "required_hold_s": "60",
        "rule": "2 x the vertical rated load",
        "before": "good",
        "after": "good",
        "log": SimpleUploadedFile("bench.csv", force_log(peak_n=39_000, hold_s=65)),
    }
    return {**facts, **typed}


def test_a_breaking_force_is_recorded(as_bench, tables):
    answer = as_bench.post(reverse("certs:record_breaking"), breaking(), follow=True)
    assert "meets the required force" in answer.text
    assert BreakingTest.objects.get().peak_n == 99_500


def test_forces_typed_in_other_units_stay_beside_the_newtons(as_bench, tables):
    # NIST SP 811: 1 lbf = 4.448 221 615 260 5 N and 1 kgf = 9.806 65 N, both exact.
    broken = as_bench.post(
        reverse("certs:record_breaking"), breaking(peak_n="22500 lbf"), follow=True
    )
    assert "100.085 kN (22500 lbf)" in broken.text
    proved = as_bench.post(
        reverse("certs:record_proof"), proof(required_n="3800 kgf", ceiling_n="40"), follow=True
    )
    assert "37.265 kN (3800 kgf)" in proved.text


def test_a_typed_peak_that_the_log_overrules_is_not_kept(as_bench, tables):
    log = SimpleUploadedFile("log.csv", force_log(peak_n=101_000, hold_s=1))
    asked = breaking(peak_n="22500 lbf", log=log)
    as_bench.post(reverse("certs:record_breaking"), asked)
    assert BreakingTest.objects.get().as_given == {}


def test_a_break_near_the_grip_is_typed_in_millimetres(as_bench, tables):
    typed = breaking(break_place="measured", break_distance_mm="40")
    as_bench.post(reverse("certs:record_breaking"), typed)
    assert BreakingTest.objects.get().break_distance_mm == 40


def test_a_place_that_nobody_wrote_down_is_kept_and_told(as_bench, tables):
    typed = breaking(break_place="unknown")
    answer = as_bench.post(reverse("certs:record_breaking"), typed, follow=True)
    assert not BreakingTest.objects.get().is_break_place_known
    assert "nobody wrote down where" in answer.text
    assert "Nobody wrote down where it broke: whether that was within 6 rope" in answer.text
    assert "clear of the grips" not in answer.text


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        pytest.param({"break_place": ""}, "Choose one for “", id="nothing said"),
        pytest.param({"break_place": "measured"}, "Give the distance", id="no distance"),
        pytest.param({"break_distance_mm": "40"}, "A distance is given here", id="clear, and not"),
        pytest.param(
            {"break_place": "unknown", "break_distance_mm": "40"},
            "A distance is given here",
            id="unknown, and not",
        ),
        pytest.param(
            {"break_place": "measured", "break_distance_mm": "far"},
            "far",
            id="no number",
        ),
    ],
)
def test_the_place_of_a_break_is_said_once(as_bench, tables, typed, words):
    answer = as_bench.post(reverse("certs:record_breaking"), breaking(**typed))
    assert not BreakingTest.objects.exists()
    assert words in answer.text


def test_a_refused_test_keeps_what_was_typed(as_bench, tables):
    answer = as_bench.post(reverse("certs:record_breaking"), breaking(peak_n="99,5 bananas"))
    assert not BreakingTest.objects.exists()
    assert 'value="99,5 bananas"' in answer.text
    assert "no unit of force" in answer.text


def test_a_breaking_force_is_found_in_a_log(as_bench, tables):
    log = SimpleUploadedFile("log.csv", force_log(peak_n=101_000, hold_s=1))
    answer = as_bench.post(
        reverse("certs:record_breaking"), breaking(peak_n="", log=log), follow=True
    )
    assert BreakingTest.objects.get().peak_n == 101_000
    assert "<svg" in answer.text.split("Force log")[1]


def test_a_proof_load_is_read_from_its_log_and_drawn(as_bench, tables):
    answer = as_bench.post(reverse("certs:record_proof"), proof(), follow=True)
    test = ProofTest.objects.get()
    assert (test.outcome, test.peak_n) == ("passes", 39_000)
    assert "Force over time, test PT-00001" in answer.text


def test_lines_that_cannot_be_read_are_named(as_bench, tables):
    log = SimpleUploadedFile("bad.csv", b"Time [s];Force [N]\n0;1\n1;x\n2;y\n3;z\n4;5\n")
    answer = as_bench.post(reverse("certs:record_proof"), proof(log=log))
    assert not ProofTest.objects.exists()
    assert "Line 3:" in answer.text
    assert 'value="2 x the vertical rated load"' in answer.text


def test_a_log_is_handed_out_as_it_came(as_auditor, claims):
    answer = as_auditor.get(reverse("certs:force_log", args=[claims.proof.code]))
    assert answer.content == force_log(peak_n=40_800, hold_s=65)
    assert answer["Content-Disposition"].startswith("attachment")
    assert answer["Content-Security-Policy"] == "sandbox"


def test_the_rules_for_proof_loads_stand_beside_the_form(as_bench, claims):
    page = f"{reverse('certs:record_proof')}?assembly={claims.assembly.code}"
    text = as_bench.get(page).text
    # 2006/42/EC Annex I 4.1.2.3, from memory: 1.5 times the working load limit, by the convention
    # of the sling; the American rule of twice the vertical rated load is not told of it.
    assert "1.5 x WLL" in text
    assert "Machinery Directive 2006/42/EC" in text
    assert "2.0 x vertical rated load" not in text
