"""No published figure exists; the cases are the trade's own, common practice with no source."""

import pytest

from inventory.rules.lengths import LengthDemand, can_give_single, nearest_single
from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal

FREE = [Stretch(0, 50), Stretch(100, 130), Stretch(200, 230), Stretch(300, 400)]


@pytest.mark.parametrize(
    ("actual_mm", "is_accepted"),
    [(989, False), (990, True), (1000, True), (1020, True), (1021, False)],
)
def test_both_limits_belong_to_the_tolerance(actual_mm, is_accepted):
    assert LengthDemand(1000, 10, 20).accepts(actual_mm) is is_accepted


def test_without_a_tolerance_only_the_very_length_serves():
    demand = LengthDemand(1000)
    assert [demand.accepts(mm) for mm in (999, 1000, 1001)] == [False, True, False]


def test_the_least_length_is_one_millimetre():
    assert LengthDemand(1).accepts(1)


@pytest.mark.parametrize(
    ("demand", "field"),
    [
        pytest.param((0, 0, 0), "length_mm", id="no length"),
        pytest.param((10, -1, 0), "tolerance_minus_mm", id="signed minus"),
        pytest.param((10, 0, -1), "tolerance_minus_mm", id="signed plus"),
        pytest.param((10, 10, 0), "tolerance_minus_mm", id="nothing would serve"),
    ],
)
def test_a_senseless_demand_is_refused(demand, field):
    with pytest.raises(Refusal) as refused:
        LengthDemand(*demand)
    assert refused.value.field == field


@pytest.mark.parametrize(
    ("length_mm", "chosen"),
    [
        pytest.param(20, Stretch(100, 130), id="shortest that fits, nearest the free end"),
        pytest.param(30, Stretch(100, 130), id="exactly"),
        pytest.param(31, Stretch(0, 50), id="next longer"),
        pytest.param(100, Stretch(300, 400), id="longest"),
        pytest.param(101, None, id="no single length is enough, though the sum would be"),
    ],
)
def test_where_to_cut_one_single_length(length_mm, chosen):
    assert can_give_single(length_mm, FREE) == chosen


@pytest.mark.parametrize(("free", "longest_mm"), [(FREE, 100), ([], 0)])
def test_the_nearest_that_can_be_given(free, longest_mm):
    assert nearest_single(free) == longest_mm
