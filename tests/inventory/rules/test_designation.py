"""Against designations printed in published texts, each named beside its case.

The reading of the lay letters is from memory of EN 12385-2; one page that prints the first
example explains them the other way round.
"""

from contextlib import suppress
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.rules.designation import (
    DesignationError,
    RopeDesignation,
    parse_american,
    parse_designation,
)
from inventory.rules.refusal import Refusal
from inventory.rules.rope_designation import CORES, FINISHES, LAY_WORDS, SPIRAL_LAYS, US_GRADES

sizes = st.one_of(
    st.tuples(st.sampled_from(["1", "1.5", "12", "22", "95", "100"]), st.just("mm")),
    st.tuples(st.sampled_from(["1/16", "3/4", "1", "1-1/8", "0.0312"]), st.just("in")),
)
grades = st.sampled_from(["1370", "1570", "1770", "1960", "2160", *US_GRADES])


@st.composite
def designations(draw):
    diameter, unit = draw(sizes)
    is_stranded = draw(st.booleans())
    kinds = st.sampled_from(["", "S", "W", "F", "M", "N", "WS", "FC"])
    if is_stranded:
        strands = draw(st.sampled_from(["3", "4", "6", "8", "18", "35(W)"]))
        wires = draw(st.sampled_from(["7", "19", "36", "K7", "K36"]))
        cores = st.sampled_from(CORES)
        built = (f"{strands}x{wires}{draw(kinds)}", draw(cores))
    else:
        built = (f"1x{draw(st.sampled_from([3, 7, 19, 37, 127]))}", "")
    lays = [lay for lay in LAY_WORDS if (lay in SPIRAL_LAYS) is not is_stranded]
    last = (draw(grades), draw(st.sampled_from(FINISHES)), draw(st.sampled_from(lays)))
    return RopeDesignation(diameter, unit, *built, *last)


@pytest.mark.parametrize(
    ("text", "parts", "words"),
    [
        pytest.param(
            "22 6x36WS-IWRC 1770 B sZ",
            ("22", "mm", "6x36WS", "IWRC", "1770", "B", "sZ"),
            "right ordinary lay",
            id="printed in a buyer's guide, as EN 12385-2",
        ),
        pytest.param(
            "32 18x19S-WSC 1960 U sZ",
            ("32", "mm", "18x19S", "WSC", "1960", "U", "sZ"),
            "right ordinary lay",
            id="EN 12385-2 example, from memory",
        ),
        pytest.param(
            "95 1x127 1370 B Z",
            ("95", "mm", "1x127", "", "1370", "B", "Z"),
            "right lay",
            id="EN 12385-2 spiral strand example, from memory",
        ),
        pytest.param(
            "12 6x7-FC 1770 U zZ",
            ("12", "mm", "6x7", "FC", "1770", "U", "zZ"),
            "right lang lay",
            id="class string of API Spec 9A",
        ),
        pytest.param(
            "16 6xK36WS-IWRC(K) 1960 A zS",
            ("16", "mm", "6xK36WS", "IWRC(K)", "1960", "A", "zS"),
            "left ordinary lay",
            id="compacted strand and core",
        ),
        pytest.param(
            "20 35(W)xK7-PWRC(K) 2160 AB sS",
            ("20", "mm", "35(W)xK7", "PWRC(K)", "2160", "AB", "sS"),
            "left lang lay",
            id="rotation-resistant, from memory",
        ),
        pytest.param(
            "14 6x24FC-FC 1570 A(Zn/Al) aZ",
            ("14", "mm", "6x24FC", "FC", "1570", "A(Zn/Al)", "aZ"),
            "right alternate lay",
            id="fibre in the strands too, alternate lay, from memory",
        ),
        pytest.param(
            "1/32 in 3x7 1770 A sZ",
            ("1/32", "in", "3x7", "", "1770", "A", "sZ"),
            "right ordinary lay",
            id="three strands close without a core",
        ),
    ],
)
def test_a_full_designation_is_read_and_written_back(text, parts, words):
    rope = parse_designation(text)
    assert rope == RopeDesignation(*parts)
    assert (rope.text, rope.lay_words, rope.assumed) == (text, words, frozenset())


@pytest.mark.parametrize(
    ("typed", "written", "assumed"),
    [
        ("8 7x7 1570 U zZ", "8 6x7-WSC 1570 U zZ", {"core"}),
        ("8 7x7-WSC 1570 U zZ", "8 6x7-WSC 1570 U zZ", set()),
        ("5 7x19 1570", "5 6x19M-WSC 1570 U sZ", {"construction", "core", "finish", "lay"}),
        ("4 1x19 1570", "4 1x19 1570 U Z", {"finish", "lay"}),
        ("3 1x7 1770 a s", "3 1x7 1770 A S", set()),
        ("10 6x19+IWRC 1770 B", "10 6x19-IWRC 1770 B sZ", {"lay"}),
        ("10 6x19 + iwrc 1770 sz", "10 6x19-IWRC 1770 U sZ", {"finish"}),
        ("10 6X19 IWRC 1770 B ZZ", "10 6x19-IWRC 1770 B zZ", set()),
        (
            "12mm 6\N{MULTIPLICATION SIGN}7\N{EN DASH}fc 1770 N/mm² u sz",
            "12 6x7-FC 1770 U sZ",
            set(),
        ),
        ("12.0 mm 6 x 7 - FC 1770MPa U SZ", "12 6x7-FC 1770 U sZ", set()),
        ("1,50 7x7 1770 b sz", "1.5 6x7-WSC 1770 B sZ", {"core"}),
        ("6/32 in 7x7 1770 B sZ", "3/16 in 6x7-WSC 1770 B sZ", {"core"}),
        ('1 1/8" 6x36 ws-iwrc eips u sz', "1-1/8 in 6x36WS-IWRC EIPS U sZ", set()),
        ("0.75 inch 6x25F-IWRC XIP U sZ", "3/4 in 6x25F-IWRC XIP U sZ", set()),
        ("0.0312 in 1x7 1770 A Z", "0.0312 in 1x7 1770 A Z", set()),
        ("2 in 6x7-FC IPS U sZ", "2 in 6x7-FC IPS U sZ", set()),
    ],
)
def test_what_is_typed_is_normalised_and_what_is_assumed_is_named(typed, written, assumed):
    rope = parse_designation(typed)
    assert (rope.text, rope.assumed) == (written, assumed)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "diameter was not understood"),
        ("7x7 1770", "diameter was not understood"),
        ("3/16 7x7 1770", "in or mm"),
        ("0 7x7 1770", "no diameter"),
        ("1/127 in 7x7 1770", "no size of rope"),
        ("12", "construction is missing"),
        ("12 rope", "“ROPE” is no construction"),
        ("12 0x7-FC 1770", "“0X7-FC” is no construction"),
        ("12 6x7", "grade is missing"),
        ("12 6x7 1770", "core of 6x7 is missing"),
        ("12 6x7FC 1770", "“FC” is no grade"),
        ("12 6x7-XYZ 1770", "“XYZ” is no core"),
        ("12 6x25F-7x7 1770", "“7X7” is no core"),
        ("12 7x7-FC 1770", "write 6x7-FC"),
        ("12 1x19-FC 1770", "spiral strand, which has no core"),
        ("12 6x7-FC", "grade is missing"),
        ("12 6x7-FC U sZ", "“U” is no grade"),
        ("12 6x7-FC 17700", "“17700” is no grade"),
        ("12 6x7-FC 1770 sZ U", "“U” was not understood"),
        ("12 6x7-FC 1770 galvanised", "“GALVANISED” was not understood"),
        ("12 6x7-FC 1770 U Z", "“Z” is no lay of 6x7"),
        ("12 1x19 1770 U sZ", "“sZ” is no lay of 1x19"),
        ("12 6x7-FC 1770 U sZ and more", "“AND MORE” was not understood"),
        ("12 6x7-FC 1770" + " " * 120, "too long"),
    ],
)
def test_what_is_not_understood_is_named(text, said):
    with pytest.raises(DesignationError, match=said) as refused:
        parse_designation(text)
    assert refused.value.field == "designation"


@pytest.mark.parametrize(
    ("parts", "said"),
    [
        (("12.0", "mm", "6x7", "FC", "1770", "U", "sZ"), "not how this diameter"),
        (("12", "cm", "6x7", "FC", "1770", "U", "sZ"), "no unit of diameter"),
        (("12", "mm", "7 by 7", "FC", "1770", "U", "sZ"), "no construction"),
        (("12", "mm", "6x7", "", "1770", "U", "sZ"), "core of 6x7 is missing"),
        (("12", "mm", "6x7", "FC", "strong", "U", "sZ"), "no grade"),
        (("12", "mm", "6x7", "FC", "1770", "C", "sZ"), "no finish"),
        (("12", "mm", "6x7", "FC", "1770", "U", "Zs"), "no lay"),
    ],
)
def test_parts_that_cannot_be_are_refused(parts, said):
    with pytest.raises(DesignationError, match=said):
        RopeDesignation(*parts)


@pytest.mark.parametrize(
    ("text", "length_mm", "written", "assumed"),
    [
        pytest.param(
            "600 ft 3/4 in 6x25 FW preformed RRL XIPS IWRC",
            182_880,
            "3/4 in 6x25F-IWRC XIPS U sZ",
            {"finish"},
            id="printed in a crane manual",
        ),
        pytest.param(
            "3/4 6x25FW XIPS IWRC",
            None,
            "3/4 in 6x25F-IWRC XIPS U sZ",
            {"finish", "lay", "preforming"},
            id="defaults are named as assumed",
        ),
        pytest.param(
            '100 m 1-1/8" 6x36 Warrington Seale prf left lang lay bright EEIPS FC',
            100_000,
            "1-1/8 in 6x36WS-FC EEIPS U sS",
            set(),
            id="words in full",
        ),
        pytest.param(
            "12 mm 6x19 Seale LRL A 1770 WSC",
            None,
            "12 6x19S-WSC 1770 A zS",
            {"preforming"},
            id="metric, zinc by class",
        ),
        pytest.param(
            "1/8 in 7x19 EIPS",
            None,
            "1/8 in 6x19M-WSC EIPS U sZ",
            {"construction", "core", "finish", "lay", "preforming"},
            id="shorthand",
        ),
        pytest.param(
            "1/8 in 7x7 EIPS WSC",
            None,
            "1/8 in 6x7-WSC EIPS U sZ",
            {"finish", "lay", "preforming"},
            id="shorthand with its core said",
        ),
        pytest.param(
            "1/4 in 1x19 EIPS",
            None,
            "1/4 in 1x19 EIPS U Z",
            {"finish", "lay", "preforming"},
            id="spiral strand",
        ),
    ],
)
def test_the_american_word_form(text, length_mm, written, assumed):
    length, rope = parse_american(text)
    assert (length, rope.text, rope.assumed) == (length_mm, written, assumed)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("600 ft", "diameter was not understood"),
        ("3/4 in 6x25 FW IWRC", "grade is missing"),
        ("3/4 in 6x25 FW XIPS", "core of 6x25F is missing"),
        ("3/4 in 6x25 FW XIPS IPS IWRC", "“IPS” gives the grade a second time"),
        ("3/4 in 6x25 FW galv XIPS IWRC", "class of zinc"),
        ("3/4 in 6x25 FW non-preformed XIPS IWRC", "“NON-PREFORMED” was not understood"),
        ("1/8 in 7x19 EIPS IWRC", "write 6x19M-IWRC"),
    ],
)
def test_american_words_that_do_not_suffice_are_refused(text, said):
    with pytest.raises(DesignationError, match=said):
        parse_american(text)


def test_a_doubtful_american_length_is_refused_as_a_length():
    with pytest.raises(Refusal, match="two ways") as refused:
        parse_american("1,000 ft 3/4 in 6x25 FW XIPS IWRC")
    assert refused.value.field == "length"


@pytest.mark.parametrize(
    ("text", "nm", "mm"),
    [
        ("1.5 7x7 1570", 1_500_000, "1.5"),
        ("10 7x7 1570", 10_000_000, "10"),
        ("3/16 in 7x7 1570", 4_762_500, "4.7625"),
    ],
)
def test_the_diameter_is_exact(text, nm, mm):
    rope = parse_designation(text)
    assert (rope.diameter_nm, rope.diameter_mm) == (nm, Decimal(mm))


@pytest.mark.parametrize(
    ("text", "trade_name", "strands"),
    [
        ("8 6x7-WSC 1570 U zZ", "7x7", 6),
        ("8 6x19M-WSC 1570 U sZ", "7x19", 6),
        ("8 1x19 1570 U Z", "1x19", 1),
        ("8 6x7-IWRC 1570 U sZ", None, 6),
        ("8 35(W)x7-WSC 1960 U sZ", None, 35),
    ],
)
def test_trade_name_and_strands(text, trade_name, strands):
    rope = parse_designation(text)
    assert (rope.trade_name, rope.outer_strands) == (trade_name, strands)
    assert rope.is_stranded is (strands > 1)


@given(designations())
def test_what_is_written_reads_back_as_the_same_rope(rope):
    read = parse_designation(rope.text)
    assert (read, read.assumed) == (rope, frozenset())


@given(designations())
def test_case_and_the_multiplication_sign_do_not_matter(rope):
    assert parse_designation(rope.text.lower()) == rope
    assert parse_designation(rope.text.upper().replace("X", "\N{MULTIPLICATION SIGN}", 1)) == rope


@given(designations())
def test_the_grade_is_kept_as_written(rope):
    assert f" {rope.grade} " in rope.text


@given(designations(), st.data())
def test_one_slip_of_the_finger_is_read_or_refused_and_nothing_else(rope, data):
    place = data.draw(st.integers(0, len(rope.text)))
    slip = data.draw(st.text(alphabet='0123456789 .,/x-+()KWSFMNCIRZsza"mU', max_size=2))
    with suppress(DesignationError):
        read = parse_designation(rope.text[:place] + slip + rope.text[place + 1 :])
        assert parse_designation(read.text) == read
