import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.documents.curve_limits import kilonewtons
from certs.documents.curve_marks import CurveMarks
from certs.documents.load_curve import describe_curve, draw_load_curve
from tests.drawings import SVG, read_drawing, texts_of

RAMP = [(0.0, 0.0), (10.0, 30_000.0), (70.0, 30_000.0), (80.0, 0.0)]
MARKS = CurveMarks(target_n=28_000, ceiling_n=33_000, plateau=(10, 70, 29_900), peak=(12.0, 30_050))


def curve(svg):
    path = read_drawing(svg).find(f".//{SVG}path[@class='draw-line draw-curve']").get("d")
    return [(float(x), float(y)) for x, y in re.findall(r"[ML](\S+) ([^L]+)", path)]


def at_tick(svg, word, axis):
    return float(texts_of(svg)[word].get(axis))


def test_the_curve_follows_both_scales():
    svg = draw_load_curve(samples=RAMP)
    points = curve(svg)
    zero, thirty = (at_tick(svg, word, "y") - 4 for word in ("0", "30"))
    assert [y for _, y in points] == pytest.approx([zero, thirty, thirty, zero], abs=0.02)
    start, end = points[0][0], points[-1][0]
    assert points[1][0] == pytest.approx(start + (end - start) / 8, abs=0.02)


def test_units_are_on_the_axes():
    assert {"Force in kN", "Time in s"} <= set(texts_of(draw_load_curve(samples=RAMP)))


def test_marks_stand_in_words():
    said = set(texts_of(draw_load_curve(samples=RAMP, marks=MARKS)))
    assert {
        "target 28 kN",
        "not above 33 kN",
        "held 60 s",
        "lowest 29.9 kN",
        "peak 30.05 kN",
    } <= said


def test_the_target_line_lies_at_its_force():
    svg = draw_load_curve(samples=RAMP, marks=CurveMarks(target_n=20_000))
    line = read_drawing(svg).find(f".//{SVG}path[@class='draw-accent-line']").get("d")
    assert float(re.findall(r"M\S+ ([\d.]+)H", line)[0]) == pytest.approx(
        at_tick(svg, "20", "y") - 4, abs=0.02
    )


@pytest.mark.parametrize(
    "marks",
    [
        pytest.param(CurveMarks(target_n=29_500, peak=(12.0, 30_050)), id="target just below"),
        pytest.param(CurveMarks(target_n=30_900, peak=(12.0, 30_050)), id="target just above"),
        pytest.param(
            CurveMarks(target_n=30_900, ceiling_n=32_200, peak=(12.0, 30_050)), id="both above"
        ),
    ],
)
def test_no_limit_line_crosses_the_words_of_the_peak(marks):
    svg = draw_load_curve(samples=RAMP, marks=marks)
    lines = [
        float(path.get("d").split()[1].split("H")[0])
        for path in read_drawing(svg).iter(f"{SVG}path")
        if path.get("class") == "draw-accent-line"
    ]
    baseline = float(texts_of(svg)["peak 30.05 kN"].get("y"))
    assert lines
    assert not any(baseline - 9 < line < baseline for line in lines)


def test_limits_are_named_beside_the_field_one_above_the_other():
    marks = CurveMarks(target_n=28_000, ceiling_n=28_100)
    svg = draw_load_curve(samples=RAMP, marks=marks)
    target, ceiling = (texts_of(svg)[word] for word in ("target 28 kN", "not above 28.1 kN"))
    assert float(target.get("x")) > max(x for x, _ in curve(svg))
    assert float(target.get("y")) - float(ceiling.get("y")) >= 11


def test_no_samples_draw_no_scale():
    assert list(texts_of(draw_load_curve(samples=[]))) == ["No samples recorded"]


@pytest.mark.parametrize(
    "samples",
    [
        pytest.param([(5.0, 1000.0)], id="one sample"),
        pytest.param([(0.0, 0.0), (9.0, 0.0)], id="no force at all"),
        pytest.param([(0.0, -500.0), (9.0, 90.0)], id="below zero"),
        pytest.param([(3.0, 10.0), (3.0, 40.0)], id="all at once"),
    ],
)
def test_odd_logs_stay_inside_the_drawing(samples):
    points = curve(draw_load_curve(samples=samples))
    assert all(0 <= x <= 720 and 0 <= y <= 320 for x, y in points)


def test_the_description_says_what_the_curve_shows():
    assert describe_curve(samples=RAMP, marks=MARKS) == (
        "4 samples from 0 s to 80 s. Target 28 kN. Not to be exceeded: 33 kN."
        " Held 60 s, from 10 s to 70 s, never below 29.9 kN. Peak 30.05 kN at 12 s."
    )


@pytest.mark.parametrize(
    ("force_n", "written"), [(30_000, "30 kN"), (150, "0.15 kN"), (61_512.4, "61.512 kN")]
)
def test_forces_are_written_in_kilonewtons(force_n, written):
    assert kilonewtons(force_n) == written


@given(st.lists(st.tuples(st.floats(0, 600), st.floats(0, 5e5)), min_size=1, max_size=300))
def test_the_highest_sample_is_always_drawn(samples):
    svg = draw_load_curve(samples=samples)
    highest = [sample for sample in samples if sample[1] == max(force for _, force in samples)]
    alone = draw_load_curve(samples=[min(samples), *highest, max(samples)])
    tops = [min(y for _, y in curve(drawn)) for drawn in (svg, alone)]
    assert tops[0] == pytest.approx(tops[1], abs=0.02)
    assert svg == draw_load_curve(samples=samples)


def test_a_zero_that_trembles_does_not_pull_the_scale_down():
    trembling = [(0.0, -60.0), *RAMP[1:]]
    assert "-5" not in texts_of(draw_load_curve(samples=trembling))
    far_below = [(0.0, -6_000.0), *RAMP[1:]]
    assert any(word.startswith("-") for word in texts_of(draw_load_curve(samples=far_below)))


@pytest.mark.parametrize("height", [230, 340])
def test_the_words_of_the_peak_stand_below_the_top(height):
    samples = [(0.0, 0.0), (90.0, 97_000.0)]
    marks = CurveMarks(peak=samples[1])
    svg = draw_load_curve(samples=samples, marks=marks, height=height)
    assert at_tick(svg, "peak 97 kN", "y") - 12 >= 0
    assert at_tick(svg, "peak 97 kN", "y") > 24
