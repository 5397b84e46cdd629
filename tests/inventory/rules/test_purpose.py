import pytest

from inventory.rules.purpose import check_purpose, check_sizes
from inventory.rules.refusal import Refusal


@pytest.mark.parametrize("kind", ["one_leg", "two_leg", "three_leg", "four_leg", "endless"])
def test_a_sling_is_not_for_static_use(kind):
    with pytest.raises(Refusal, match="made to lift") as refusal:
        check_purpose(kind, use="static", bend_mm=None)
    assert refusal.value.field == "use"


@pytest.mark.parametrize(
    ("kind", "use", "bend_mm"),
    [("rope_with_ends", "static", 20), ("one_leg", "lifting", None), ("endless", "lifting", 1)],
)
def test_what_may_be_built(kind, use, bend_mm):
    assert check_purpose(kind, use=use, bend_mm=bend_mm) is None


@pytest.mark.parametrize("bend_mm", [0, -1])
def test_a_bearing_point_has_a_thickness(bend_mm):
    with pytest.raises(Refusal) as refusal:
        check_purpose("one_leg", use="lifting", bend_mm=bend_mm)
    assert refusal.value.field == "bend_mm"


@pytest.mark.parametrize(
    ("clear_mm", "eye_mm", "field"),
    [
        pytest.param(0, None, "clear_mm", id="no-clear-rope"),
        pytest.param(1001, None, "clear_mm", id="more-than-the-piece"),
        pytest.param(None, 0, "eye_mm", id="no-eye"),
        pytest.param(None, 1001, "eye_mm", id="eye-beyond-the-piece"),
    ],
)
def test_sizes_that_cannot_be_are_refused(clear_mm, eye_mm, field):
    with pytest.raises(Refusal) as refusal:
        check_sizes(length_mm=1000, clear_mm=clear_mm, eyes_mm=[None, eye_mm])
    assert refusal.value.field == field


@pytest.mark.parametrize(("clear_mm", "eye_mm"), [(None, None), (1, 1), (1000, 1000)])
def test_sizes_that_fit_are_let_be(clear_mm, eye_mm):
    assert check_sizes(length_mm=1000, clear_mm=clear_mm, eyes_mm=[eye_mm]) is None
