import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.rules.as_given import (
    beside,
    is_of_another_unit,
    kept_as_given,
    still_true,
)
from inventory.rules.refusal import Refusal
from inventory.rules.units import parse_force_n


@pytest.mark.parametrize(
    ("text", "is_kept"),
    [
        ("12.5", False),
        ("12,5 m", False),
        ("250 mm", False),
        ("84.6 kN", False),
        ("104 kg", False),
        ("41 ft", True),
        ("41 ft 6 in", True),
        ("3/16 in", True),
        ('10"', True),
        ("12500 lbf", True),
        ("2 tf", True),
        ("229 lb", True),
        ("nonsense", False),
    ],
)
def test_only_another_unit_is_kept(text, is_kept):
    assert is_of_another_unit(text) is is_kept


def test_what_was_typed_is_kept_by_its_field():
    # NIST SP 811: 1 ft = 304.8 mm, 1 lbf = 4.448 221 615 260 5 N, both exact.
    typed = {"length_mm": " 41 ft ", "peak_n": "12500 lbf", "declared_force_n": "55 kN"}
    values = {"length_mm": 12_497, "peak_n": 55_603, "declared_force_n": 55_000}
    assert kept_as_given(typed, values) == {"length_mm": "41 ft", "peak_n": "12500 lbf"}


@pytest.mark.parametrize(
    ("typed", "values", "said"),
    [
        pytest.param({"peak_n": "1 lbf"}, {"peak_n": 5}, "does not mean", id="another force"),
        pytest.param({"peak_n": "1 lbf"}, {}, "no quantity", id="no such figure"),
        pytest.param({"peak_n": "1 lbf"}, {"peak_n": None}, "no quantity", id="figure left empty"),
        pytest.param({"note": "1 lbf"}, {"note": 4}, "no quantity", id="field without a unit"),
    ],
)
def test_a_text_that_does_not_mean_the_figure_is_refused(typed, values, said):
    with pytest.raises(Refusal, match=said) as refused:
        kept_as_given(typed, values)
    assert refused.value.field == next(iter(typed))


@given(st.integers(1, 10**6), st.sampled_from(["lbf", "kgf", "tf", "tonf (short)"]))
def test_whatever_is_read_may_be_kept(number, unit):
    text = f"{number} {unit}"
    try:
        force_n = parse_force_n(text)
    except Refusal:
        return
    assert kept_as_given({"peak_n": text}, {"peak_n": force_n}) == {"peak_n": text}


def test_what_was_typed_stands_beside_the_figure():
    assert beside("55.603 kN", {"peak_n": "12500 lbf"}, "peak_n") == "55.603 kN (12500 lbf)"
    assert beside("55.603 kN", {}, "peak_n") == "55.603 kN"


def test_where_another_unit_stands_beside_the_figure_there_is_still_one_pair_of_brackets():
    said = beside("12.497 m (41.00 ft)", {"length_mm": "41 ft"}, "length_mm")
    assert said == "12.497 m (41.00 ft; entered as 41 ft)"


def test_a_text_whose_figure_was_not_taken_is_left_out():
    kept = {"peak_n": "12500 lbf", "required_n": "1 tf"}
    assert still_true(kept, peak_n=(55_603, 55_700)) == {"required_n": "1 tf"}
    assert still_true(kept, peak_n=(55_603, 55_603)) == kept
