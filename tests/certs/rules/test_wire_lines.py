import pytest

from certs.rules.wire_lines import UnreadableWires, read_wires
from certs.rules.wire_strength import Wire
from inventory.rules.refusal import Refusal

PLAIN = Wire("outer", 800_000, 955_000, represents=6, retest_force_mn=960_000)


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("outer; 0.8; 955; 6; 960", id="semicolons and points"),
        pytest.param("outer\t0,8\t955\t6\t960", id="tabs and decimal commas"),
        pytest.param("outer; 0,80 mm; 0.955 kN; 6; 960 N;;", id="units and empty cells"),
        pytest.param("Layer; Diameter; Force\n\nouter; .8; 955,0; 6; 960\r\n", id="with a heading"),
    ],
)
def test_a_wire_as_it_is_typed(text):
    assert read_wires(text) == (PLAIN,)


@pytest.mark.parametrize(
    ("text", "force_mn"),
    [
        pytest.param("55.4", 55_400, id="a tenth of a newton"),
        pytest.param("55,4 N", 55_400, id="with a comma"),
        pytest.param("0.0554 kN", 55_400, id="kN"),
        # 9.80665 and 4.4482216152605 N: NIST SP 811 (2008) appendix B.
        pytest.param("5.65 kgf", 55_408, id="kgf: 55.4075725 N"),
        pytest.param("12.5 lbf", 55_603, id="lbf: 55.60277 N"),
        pytest.param("55.4005", 55_401, id="half of a thousandth goes up"),
        pytest.param("55.40049", 55_400, id="less than half goes down"),
    ],
)
def test_a_force_is_read_to_the_thousandth_of_a_newton(text, force_mn):
    assert read_wires(f"outer; 0.2; {text}; 1; {text}") == (
        Wire("outer", 200_000, force_mn, retest_force_mn=force_mn),
    )


def test_a_wire_stands_for_itself_unless_more_is_said():
    assert read_wires("outer; 0.8; 955") == (Wire("outer", 800_000, 955_000),)


def test_every_line_at_fault_is_told_with_its_number_and_nothing_is_read():
    text = "outer; 0.8; 955\nouter; 0.8\n\nouter; thick; 955\nouter; 0.8; 955; many\nouter;0.8;9"
    with pytest.raises(UnreadableWires) as refused:
        read_wires(text)
    assert [problem.line for problem in refused.value.problems] == [2, 4, 5, 6]
    assert "Line 2: A wire has 3 to 5 columns, not 2" in refused.value.message
    assert "3 more lines are at fault" in refused.value.message
    assert refused.value.field == "wires"
    assert "“thick” is no diameter of a wire" in refused.value.problems[1].reason
    assert "“many” is no number of wires" in refused.value.problems[2].reason


@pytest.mark.parametrize("count", ["0", "-1", "1.5", "10000", "٣", "9" * 5000])
def test_what_is_no_number_of_wires(count):
    with pytest.raises(UnreadableWires, match="no number of wires"):
        read_wires(f"outer; 0.8; 955; {count}")


@pytest.mark.parametrize(("lines", "words"), [(1, "such as 1.33."), (2, "One more line")])
def test_the_sentence_counts_the_lines_at_fault(lines, words):
    with pytest.raises(UnreadableWires) as refused:
        read_wires("outer; 0.8; 955\n" + "outer; thick; 955\n" * lines)
    assert words in refused.value.message
    assert ("One more" in refused.value.message) is (lines == 2)


@pytest.mark.parametrize("text", ["", "\n  \n", "Layer; Diameter; Force"])
def test_no_wire_at_all_is_refused_with_the_columns(text):
    with pytest.raises(Refusal, match="layer; diameter in mm; force in N"):
        read_wires(text)


def test_a_file_of_another_kind_is_refused_whole():
    with pytest.raises(Refusal, match="1001 wires are more than a sample has"):
        read_wires("outer; 0.8; 955\n" * 1001)
