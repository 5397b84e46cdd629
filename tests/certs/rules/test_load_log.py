"""Reading force logs. Unit factors: NIST SP 811 (2008), appendix B (kgf and lbf are exact)."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules import load_log
from certs.rules.load_log import Sample, UnreadableLog, read_log

PLAIN = "Time [s];Force [kN]\n0;0\n1;50\n"


def rows(count, *, start=1, separator=";"):
    return "".join(f"{i}{separator}{i}\n" for i in range(start, start + count))


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("Time [s];Force [kN]\n0,5;0,25\n1,5;50,3\n", id="semicolon, decimal comma"),
        pytest.param("Time [s];Force [kN]\n0.5;0.25\n1.5;50.3\n", id="semicolon, decimal point"),
        pytest.param("Time (s),Load (kN)\n0.5,0.25\n1.5,50.3\n", id="comma, decimal point"),
        pytest.param("Zeit/s\tKraft/kN\n0,5\t0,25\n1,5\t50,3\n", id="tab, German"),
        pytest.param("t (ms);F [N]\n500;250\n1500;50300\n", id="milliseconds and newtons"),
        pytest.param("Zeit in s;Zugkraft in kN\n0,5;0,25\n1,5;50,3\n", id="unit after in"),
        pytest.param("time_s,force_kN\n0.5,0.25\n1.5,50.3\n", id="unit after underline"),
        pytest.param("Zeit;Kraft\n[s];[kN]\n0,5;0,25\n1,5;50,3\n", id="row of units below"),
        pytest.param("Zeit\tKraft\ns\tkN\n0,5\t0,25\n1,5\t50,3\n", id="bare units below"),
        pytest.param("s;kN\n0,5;0,25\n1,5;50,3\n", id="bare units alone"),
        pytest.param("t;Set;F\ns;kN;kN\n.5;9;.25\n1.5;9;50.3\n", id="set value, units below"),
        pytest.param("[s];[kN]\n0,5;0,25\n1,5;50,3\n", id="row of units alone"),
        pytest.param('"Time [s]","Force [kN]"\n"0,5","0,25"\n"1,5","50,3"\n', id="quoted"),
        pytest.param("Time [s];Force [kN];\n0.5;0.25;\n1.5;50.3;\n", id="separator at the end"),
        pytest.param("Time [s];Force [kN]\r\n0.5;0.25\r\n\r\n1.5;50.3\r\n", id="CR LF, blank line"),
        pytest.param("\ufeffTime [s];Force [kN]\n0.5;0.25\n1.5;50.3\n", id="mark of UTF-8"),
        pytest.param("Force [kN];Time [s]\n0.25;0.5\n50.3;1.5\n", id="force first"),
        pytest.param(
            "Time [s];Stroke [mm];Force [kN]\n.5;1;.25\n1.5;2;50.3\n", id="a third column"
        ),
        pytest.param("t [s];Set force [kN];Force [kN]\n.5;9;.25\n1.5;9;50.3\n", id="a set value"),
        pytest.param("t [s];Sollkraft [kN];Kraft [kN]\n.5;9;.25\n1.5;9;50.3\n", id="Sollkraft"),
        pytest.param("Time [s];Force [kN]\n5e-1;2.5E-1\n1.5;+50.3\n", id="exponent"),
        pytest.param("10;12\nTime [s];Force [kN]\n0.5;0.25\n1.5;50.3\n", id="numbers above"),
    ],
)
def test_ways_of_writing_the_same_two_readings(text):
    assert read_log(text).samples == (Sample(0.5, 250.0), Sample(1.5, 50_300.0))


@pytest.mark.parametrize(
    ("unit", "newtons"),
    [
        ("N", 1.0),
        ("daN", 10.0),
        ("kN", 1000.0),
        ("MN", 1_000_000.0),
        ("kgf", 9.80665),
        ("kp", 9.80665),
        ("tf", 9806.65),
        ("lbf", 4.4482216152605),
        ("tonf (short)", 8896.443230521),  # 2000 lbf
        ("LBF", 4.4482216152605),
    ],
)
def test_units_of_force(unit, newtons):
    log = read_log(f"Time [s];Force [{unit}]\n0;0\n1;1\n")
    assert log.samples[1].force_n == newtons


@pytest.mark.parametrize(
    ("unit", "seconds"), [("s", 1.0), ("sec", 1.0), ("ms", 0.001), ("min", 60.0)]
)
def test_units_of_time(unit, seconds):
    log = read_log(f"Time [{unit}];Force [N]\n0;0\n1;1\n")
    assert log.samples[1].time_s == seconds


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "latin-1"])
def test_bytes_in_any_usual_encoding(encoding):
    log = read_log("Prüfer;Müller\nZeit [s];Prüfkraft [kN]\n0;0\n1;50\n".encode(encoding))
    assert log.metadata == {"Prüfer": "Müller"}
    assert log.samples[1] == Sample(1.0, 50_000.0)


def test_lines_above_the_heading_are_kept():
    log = read_log("# Machine: bench 2\nOperator;A. B.\n\nNote\nNote;2\n:x\n" + PLAIN)
    assert log.metadata == {
        "Machine": "bench 2",
        "Operator": "A. B.",
        "Note": "",
        "Note (line 5)": "2",
        "line 6": "x",
    }


def test_what_was_found_out_about_the_layout_is_told():
    log = read_log("Zeit [ms];Kraft [kN]\n0,5;-0,01\n1,5;50,3\n")
    found = (log.separator, log.decimal_mark, log.time_unit, log.force_unit)
    assert found == (";", ",", "ms", "kN")
    assert log.problems == ()


@pytest.mark.parametrize(
    ("bad", "reason"),
    [
        ("x;5", "the time is not a number"),
        ("21;---", "the force is not a number"),
        ("21;nan", "the force is not a number"),
        ("21;1.234,5", "the force is not a number"),
        ("21;1e999", "the force is not a number"),
        ("21", "too few columns"),
        ("21;", "too few columns"),
        ("21;5;7", "more columns than the heading"),
        ("20;5", "the same time as the line before"),
        ("19;5", "the time runs backward"),
    ],
)
def test_a_bad_row_is_reported_by_line_and_skipped(bad, reason):
    log = read_log("Time [s];Force [kN]\n" + rows(20) + bad + "\n" + rows(2, start=30))
    assert [(p.line, p.text, p.reason) for p in log.problems] == [(22, bad, reason)]
    assert len(log.samples) == 22


def test_one_bad_row_in_ten_is_borne():
    log = read_log("Time [s];Force [kN]\n" + rows(9) + "x;1\n")
    assert len(log.problems) == 1


def test_more_bad_rows_than_one_in_ten_are_refused_with_the_list():
    text = "Time [s];Force [kN]\n" + rows(50) + "x;1\n" * 6
    with pytest.raises(UnreadableLog, match="6 of 56 lines") as refused:
        read_log(text)
    assert [problem.line for problem in refused.value.problems] == [52, 53, 54, 55, 56, 57]
    assert "line 52: the time is not a number" in refused.value.message
    assert refused.value.message.endswith("; and so on.")


@pytest.mark.parametrize(
    ("text", "field", "words"),
    [
        pytest.param("", "log", "holds two numbers", id="empty"),
        pytest.param("no\nnumbers;here\n", "log", "holds two numbers", id="words only"),
        pytest.param("Time [s]\n1\n2\n", "log", "holds two numbers", id="one column"),
        pytest.param("Time [s];Force [kN]\n1;1\n", "log", "0 of 1", id="one reading"),
        pytest.param("Time [s];Force\n0;0\n1;1\n", "force_unit", "no unit of force", id="no unit"),
        pytest.param("t [s];Max load\n0;0\n1;1\n", "force_unit", "no unit of force", id="2 words"),
        pytest.param("Time\tForce\n0\t0\n1\t1\n", "time_unit", "no unit of time", id="bare"),
        pytest.param("Time;Force [N]\n0;0\n1;1\n", "time_unit", "no unit of time", id="no time"),
        pytest.param("t [s];Load (lbs)\n0;0\n1;1\n", "force_unit", "“lbs”", id="pounds of what"),
        pytest.param("t [s];Load (mN)\n0;0\n1;1\n", "force_unit", "“mN”", id="milli or mega"),
        pytest.param("0;0\n1;1\n", "time_unit", "no unit of time", id="no heading"),
        pytest.param("0;0;5\n1;1;5\n", "log", "No heading", id="three columns, no heading"),
        pytest.param("0,5,1,2\n1,5,2,3\n", "log", "No heading", id="comma for everything"),
        pytest.param("t [s];F1 [kN];F2 [kN]\n0;0;0\n1;1;1\n", "log", "F1 .kN., F2", id="2 forces"),
        pytest.param("t [s];dt [s];F [kN]\n0;0;0\n1;1;1\n", "log", "t .s., dt", id="2 times"),
        pytest.param("t [s],F [kN]\n0,5,1,2\n1,5,2,3\n", "log", "more columns", id="4 for 2"),
        pytest.param("t [s];F [N]\n0;0\n1;900\n2;1.234\n", "log", "thousands", id="thousands"),
    ],
)
def test_what_cannot_be_read_is_refused_in_words(text, field, words):
    with pytest.raises(UnreadableLog, match=words) as refused:
        read_log(text)
    assert refused.value.field == field


def test_a_missing_unit_is_taken_from_the_reader():
    log = read_log("0;0\n1;1\n", force_unit="lbf", time_unit="min")
    assert log.samples[1] == Sample(60.0, 4.4482216152605)


def test_an_unknown_unit_in_the_heading_is_replaced_by_the_readers():
    assert read_log("t [s];Load (lbs)\n0;0\n1;1\n", force_unit="lbf").force_unit == "lbf"


@pytest.mark.parametrize(("force", "time"), [("lbf", None), (None, "ms")])
def test_a_unit_that_contradicts_the_log_is_refused(force, time):
    with pytest.raises(UnreadableLog, match="Make sure which is right"):
        read_log(PLAIN, force_unit=force, time_unit=time)


@pytest.mark.parametrize(("force", "time"), [("stone", None), (None, "fortnight")])
def test_a_unit_that_is_none_is_refused(force, time):
    with pytest.raises(UnreadableLog, match="give one of"):
        read_log(PLAIN, force_unit=force, time_unit=time)


def test_three_fixed_decimals_are_no_thousands():
    log = read_log("t [s];F [kN]\n0;0.000\n1;12.345\n2;50.300\n")
    assert log.samples[1].force_n == 12_345.0


def test_too_long_a_log_is_refused(monkeypatch):
    monkeypatch.setattr(load_log, "MAX_ROWS", 20)
    read_log("Time [s];Force [kN]\n" + rows(20))
    with pytest.raises(UnreadableLog, match="21 lines; at most 20"):
        read_log("Time [s];Force [kN]\n" + rows(21))


@given(
    st.lists(st.integers(-(10**7), 10**9), min_size=2, max_size=50),
    st.sampled_from([(";", ","), (";", "."), ("\t", ","), ("\t", "."), (",", ".")]),
)
def test_what_is_written_in_kn_is_read_to_the_newton(forces, layout):
    separator, mark = layout
    lines = [f"Time [s]{separator}Force [kN]"]
    for second, force in enumerate(forces):
        sign, size = "-" if force < 0 else "", abs(force)
        lines.append(f"{second}{separator}{sign}{size // 1000}{mark}{size % 1000:03d}")
    assert [sample.force_n for sample in read_log("\n".join(lines)).samples] == forces


@given(st.one_of(st.text(max_size=300), st.binary(max_size=300)))
def test_whatever_comes_is_read_or_refused(log):
    try:
        found = read_log(log).samples
    except UnreadableLog:
        return
    assert all(a.time_s < b.time_s for a, b in pairwise(found))
    assert len(found) > 1
