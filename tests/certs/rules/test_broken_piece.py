import pytest

from certs.rules.broken_piece import check_broken_piece
from inventory.rules.refusal import Refusal

NOTHING_SAID = {"free_length_mm": None, "break_distance_mm": None, "temperature_c": None}


def check(**said):
    check_broken_piece(sample_mm=1500, **(NOTHING_SAID | said))


# Geometry only: a free length is part of its sample, a break is nearest to the nearest grip.
@pytest.mark.parametrize(
    ("said", "field"),
    [
        pytest.param({"free_length_mm": 0}, "free_length_mm", id="no free length"),
        pytest.param({"free_length_mm": 1501}, "free_length_mm", id="longer than the sample"),
        pytest.param({"break_distance_mm": 751}, "break_distance_mm", id="outside the sample"),
        pytest.param(
            {"free_length_mm": 1000, "break_distance_mm": 501},
            "break_distance_mm",
            id="nearer to the other grip",
        ),
        pytest.param(
            {"break_distance_mm": 100, "is_break_place_known": False},
            "break_distance_mm",
            id="a distance from nowhere",
        ),
        pytest.param({"temperature_c": 210}, "temperature_c", id="a point left out"),
        pytest.param({"temperature_c": -41}, "temperature_c", id="colder than any bench"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(said, field):
    with pytest.raises(Refusal) as refused:
        check(**said)
    assert refused.value.field == field


@pytest.mark.parametrize(
    "said",
    [
        {},
        {"free_length_mm": 1500, "break_distance_mm": 750, "temperature_c": 60},
        {"free_length_mm": 600, "break_distance_mm": 0, "temperature_c": -40},
    ],
    ids=["nothing said", "the most", "the least"],
)
def test_what_can_be_is_taken(said):
    check(**said)
