from certs.documents.curve_marks import CurveMarks
from certs.documents.load_curve_table import CurveRow, load_curve_table

SAMPLES = [(0.0, 0.0), (9.0, 30_000.0), (11.0, 31_000.0), (60.0, 30_500.0)]


def test_rows_are_samples_of_the_log_next_after_round_times():
    rows = load_curve_table(samples=SAMPLES)
    assert [(row.time_s, row.force) for row in rows] == [
        ("0", "0 kN"),
        ("9", "30 kN"),
        ("11", "31 kN"),
        ("60", "30.5 kN"),
    ]


def test_marks_stand_among_the_samples():
    marks = CurveMarks(plateau=(9.0, 60.0, 30_000), peak=(11.0, 31_000))
    rows = load_curve_table(samples=SAMPLES, marks=marks)
    assert CurveRow("9 to 60", "30 kN", "lowest force of the plateau") in rows
    assert CurveRow("11", "31 kN", "peak") in rows


def test_no_log_gives_no_rows():
    assert load_curve_table(samples=[]) == ()


def test_a_single_moment_is_one_row():
    assert load_curve_table(samples=[(3.0, 10.0)]) == (CurveRow("3", "0.01 kN", "recorded"),)
