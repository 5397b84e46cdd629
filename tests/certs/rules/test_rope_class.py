import pytest

from certs.rules.rope_class import constructions_of, rope_class, why_unclassed
from tests.certs.rules.tables import FACTORS

# The factor table (Feyrer, Wire Ropes, Table 1.9, after EN 12385) names classes and their lay;
# the ranges of wires are from memory of EN 12385-4 and must be marked so.
CLASSES = [
    ("6x7", "6x7", False),
    ("8x7", "8x7", False),
    ("6x19S", "6x19", False),
    ("6x19W", "6x19", False),
    ("6x21F", "6x19", False),
    ("6x25F", "6x19", False),
    ("6x26WS", "6x19", True),
    ("6x31WS", "6x36", True),
    ("6x36WS", "6x36", False),
    ("6x36", "6x36", False),
    ("6x41WS", "6x36", True),
    ("6x49SWS", "6x36", True),
    ("8x19S", "8x19", True),
    ("8x25F", "8x19", True),
    ("8x36WS", "8x36", True),
    ("6x19M", "6x19M", False),
    ("6x37M", "6x37M", False),
    ("6x35N", "6x35N", False),
    ("17x7", "18x7", True),
    ("18x7", "18x7", False),
    ("34x7", "34x7", False),
    ("1x7", "1x7", False),
    ("1x19", "1x19", False),
    ("1x37", "1x37", False),
]


@pytest.mark.parametrize(("construction", "expected", "is_from_memory"), CLASSES)
def test_construction_has_its_class(construction, expected, is_from_memory):
    found = rope_class(construction)
    assert found.name == expected
    assert found.source.is_provisional is is_from_memory


def test_every_class_of_the_factor_table_can_be_reached():
    for factor in FACTORS:
        assert constructions_of(factor.rope_class), factor.rope_class


@pytest.mark.parametrize(
    ("construction", "reason"),
    [
        pytest.param("6x19", "6x19M", id="lay-of-strand-not-said-19"),
        pytest.param("6x37", "6x37M", id="lay-of-strand-not-said-37"),
        pytest.param("19x7", "18x7-WSC", id="core-counted-as-strand"),
        pytest.param("35x7", "parallel", id="two-ropes-of-one-name"),
        pytest.param("6xK36WS", "compacted", id="compacted-strand"),
        pytest.param("5x5", "no class", id="unknown"),
    ],
)
def test_what_cannot_be_defended_has_no_class(construction, reason):
    assert rope_class(construction) is None
    assert reason in why_unclassed(construction)
