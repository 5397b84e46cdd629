import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.documents.reel_stretches import (
    WORDS,
    MapHeat,
    MapKind,
    MapStretch,
    metres,
    whole_reel,
)

LENGTH_MM = 500_000


@pytest.mark.parametrize(
    ("length_mm", "written"),
    [
        pytest.param(0, "0", id="free end"),
        pytest.param(12_500, "12.5", id="half a metre"),
        pytest.param(500_000, "500", id="whole metres"),
        pytest.param(1, "0.001", id="a millimetre"),
    ],
)
def test_metres_are_exact(length_mm, written):
    assert metres(length_mm) == written


def test_every_kind_has_its_word():
    assert set(WORDS) == set(MapKind)


def test_a_hold_is_always_said():
    gone = MapStretch(0, 1000, MapKind.SUPPLY, "P-1", is_held=True)
    assert gone.spoken == "P-1, supplied, under hold: do not use, 0 to 1 m"
    assert gone.is_under_hold


def test_held_metres_say_their_hold_once():
    held = MapStretch(0, 1000, MapKind.HELD, "", is_held=True)
    assert held.word == "on the reel, under hold: do not use"


def test_a_heat_names_its_metres():
    assert MapHeat(0, 2500, "H7").spoken == "heat H7, 0 to 2.5 m"


def test_unnamed_metres_are_still_on_the_reel():
    cut = MapStretch(100, 200, MapKind.SUPPLY, "P-1")
    before, after = (MapStretch(a, b, MapKind.FREE, "") for a, b in ((0, 100), (200, 900)))
    assert whole_reel(length_mm=900, stretches=[cut]) == (before, cut, after)


@pytest.mark.parametrize(
    ("length_mm", "spans", "reason"),
    [
        pytest.param(0, [], "length above zero", id="no reel"),
        pytest.param(100, [(50, 101)], "lie inside", id="past the end"),
        pytest.param(100, [(-1, 10)], "lie inside", id="before the free end"),
        pytest.param(100, [(10, 10)], "lie inside", id="no metres"),
        pytest.param(100, [(0, 50), (49, 60)], "share no metres", id="one millimetre twice"),
    ],
)
def test_what_cannot_be_is_refused(length_mm, spans, reason):
    stretches = [MapStretch(a, b, MapKind.SUPPLY, "P") for a, b in spans]
    with pytest.raises(ValueError, match=reason):
        whole_reel(length_mm=length_mm, stretches=stretches)


@given(st.lists(st.integers(0, LENGTH_MM), unique=True, max_size=80))
def test_the_stretches_add_up_to_the_reel(cuts):
    cuts = sorted(cuts)
    pairs = list(zip(cuts[::2], cuts[1::2], strict=False))
    pieces = whole_reel(
        length_mm=LENGTH_MM,
        stretches=[MapStretch(a, b, MapKind.SUPPLY, "P") for a, b in reversed(pairs)],
    )
    ends = [0, *(piece.to_mm for piece in pieces)]
    assert [piece.from_mm for piece in pieces] == ends[:-1]
    assert ends[-1] == LENGTH_MM
