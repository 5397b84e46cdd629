"""What cautions must say, after WAC 296-24, California Title 8 and EN 13414-1 as read."""

import pytest

from certs.rules.cautions import cautions_for


@pytest.mark.parametrize(
    "said",
    [
        "above 120°, 87 % between 90° and 120° and 74 % between 60° and 89°",
        "at least twice as thick as the rope",
        "one rope diameter thick about halves",
        "U-bolt grips have no place on slings",
        "Lifting people, molten metal",
    ],
)
def test_slings_carry_the_cautions_of_slings(said):
    assert said in " ".join(cautions_for(is_sling=True, is_rope_only=False))
    assert said not in " ".join(cautions_for(is_sling=False, is_rope_only=True))


@pytest.mark.parametrize(
    "said",
    [
        "ten broken wires at random in one lay length, or five in one strand",
        "a third of an outer wire is worn away",
        "the tag is missing",
        "93 °C (200 °F)",
        "204 °C (400 °F) or below −51 °C (−60 °F)",
        "shock-load, knot, weld or shorten",
        "before each use",
        "as delivered, on the date of test",
        "Local law and codes",
    ],
)
@pytest.mark.parametrize("is_sling", [True, False])
def test_everything_carries_the_general_cautions(said, is_sling):
    assert said in " ".join(cautions_for(is_sling=is_sling, is_rope_only=not is_sling))
