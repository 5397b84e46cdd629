"""No published figure exists for this arithmetic; it is checked against its own laws."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.rules.metres import (
    PURPOSES,
    Affine,
    Balance,
    Stretch,
    Winding,
    balance,
    free_stretches,
)
from inventory.rules.refusal import Refusal

LENGTH_MM = 10_000


@st.composite
def stretches(draw, length_mm=LENGTH_MM):
    start = draw(st.integers(0, length_mm - 1))
    return Stretch(start, draw(st.integers(start + 1, length_mm)))


@st.composite
def windings(draw):
    return Winding(draw(stretches()), draw(st.booleans()))


@pytest.mark.parametrize(
    ("ends", "field"),
    [
        pytest.param((-1, 5), "from_mm", id="before the free end"),
        pytest.param((5, 5), "to_mm", id="empty"),
        pytest.param((6, 5), "to_mm", id="backwards"),
    ],
)
def test_an_impossible_stretch_is_refused(ends, field):
    with pytest.raises(Refusal) as refused:
        Stretch(*ends)
    assert refused.value.field == field


def test_a_stretch_is_written_in_metres():
    assert str(Stretch(1_500, 12_000)) == "1.500 m to 12.000 m"


@pytest.mark.parametrize(
    ("other", "shared"),
    [
        pytest.param(Stretch(0, 10), None, id="touching before"),
        pytest.param(Stretch(20, 30), None, id="touching after"),
        pytest.param(Stretch(19, 30), Stretch(19, 20), id="one millimetre shared"),
        pytest.param(Stretch(12, 15), Stretch(12, 15), id="inside"),
        pytest.param(Stretch(0, 30), Stretch(10, 20), id="around"),
    ],
)
def test_what_two_stretches_share(other, shared):
    assert Stretch(10, 20).clip(other) == shared
    assert Stretch(10, 20).overlaps(other) is (shared is not None)


@pytest.mark.parametrize(("mm", "is_in"), [(9, False), (10, True), (19, True), (20, False)])
def test_the_end_of_a_stretch_does_not_belong_to_it(mm, is_in):
    assert Stretch(10, 20).contains(mm) is is_in


@pytest.mark.parametrize(
    ("taken", "free"),
    [
        pytest.param([], [Stretch(0, 100)], id="nothing taken"),
        pytest.param([Stretch(0, 100)], [], id="all taken"),
        pytest.param([Stretch(40, 60)], [Stretch(0, 40), Stretch(60, 100)], id="middle"),
        pytest.param([Stretch(50, 60), Stretch(0, 50)], [Stretch(60, 100)], id="any order"),
        pytest.param(
            [Stretch(10, 90), Stretch(20, 30)], [Stretch(0, 10), Stretch(90, 100)], id="nested"
        ),
        pytest.param([Stretch(90, 120)], [Stretch(0, 90)], id="past the end"),
        pytest.param([Stretch(110, 120)], [Stretch(0, 100)], id="beyond the end"),
    ],
)
def test_what_is_left_of_a_reel(taken, free):
    assert free_stretches(100, taken) == free


@given(st.lists(stretches()))
def test_free_and_taken_never_meet_and_together_cover_the_reel(taken):
    free = free_stretches(LENGTH_MM, taken)
    assert not any(gap.overlaps(cut) for gap in free for cut in taken)
    covered = sum(gap.length_mm for gap in free) + sum(
        cut.length_mm for cut in free_stretches(LENGTH_MM, free)
    )
    assert covered == LENGTH_MM


def test_every_millimetre_is_in_one_column():
    cuts = [
        ("scrap", Stretch(900, 1000)),
        ("supply", Stretch(0, 300)),
        ("sample", Stretch(300, 320)),
        ("rewind", Stretch(400, 600)),
        ("supply", Stretch(600, 650)),
    ]
    assert balance(1000, cuts) == Balance(1000, 350, 20, 200, 100, 330)


@pytest.mark.parametrize(
    ("cuts", "said"),
    [
        pytest.param(
            [("supply", Stretch(0, 10)), ("scrap", Stretch(9, 20))], "overlaps", id="overlap"
        ),
        pytest.param([("supply", Stretch(90, 101))], "passes the end", id="over-length"),
        pytest.param([("gift", Stretch(0, 10))], "no purpose of a cut", id="unknown purpose"),
    ],
)
def test_cuts_that_cannot_all_be_true_are_refused(cuts, said):
    with pytest.raises(Refusal, match=said):
        balance(100, cuts)


@given(st.sets(st.integers(0, 10_000), min_size=2), st.data())
def test_the_columns_always_add_up_to_the_length(marks, data):
    ends = sorted(marks)
    cuts = [
        (data.draw(st.sampled_from(PURPOSES)), Stretch(a, b))
        for a, b in pairwise(ends)
        if data.draw(st.booleans())
    ]
    sums = balance(10_000, cuts)
    parts = (sums.supply_mm, sums.sample_mm, sums.rewind_mm, sums.scrap_mm, sums.remaining_mm)
    assert sum(parts) == sums.length_mm
    assert min(parts) >= 0


def test_a_rewound_reel_has_its_free_end_at_the_parents_last_metre():
    rewound = Winding(Stretch(400_000, 500_000), is_turned=True)
    assert (rewound.to_parent(0), rewound.to_parent(100_000)) == (500_000, 400_000)


def test_a_length_that_was_not_turned_keeps_its_direction():
    coil = Winding(Stretch(400_000, 500_000), is_turned=False)
    assert (coil.to_parent(0), coil.to_parent(100_000)) == (400_000, 500_000)


@pytest.mark.parametrize("mm", [-1, 101])
def test_a_point_off_the_child_has_no_place_on_the_parent(mm):
    with pytest.raises(Refusal, match="is not on a length"):
        Winding(Stretch(0, 100), is_turned=True).to_parent(mm)


@pytest.mark.parametrize(
    ("suspect", "on_child"),
    [
        pytest.param(Stretch(410, 420), Stretch(80, 90), id="inside, turned round"),
        pytest.param(Stretch(0, 405), Stretch(95, 100), id="clipped"),
        pytest.param(Stretch(500, 600), None, id="not wound on the child"),
    ],
)
def test_a_suspect_stretch_is_found_on_the_rewound_reel(suspect, on_child):
    assert Winding(Stretch(400, 500), is_turned=True).stretch_to_child(suspect) == on_child


@given(windings(), st.data())
def test_forward_then_backward_is_where_it_was(winding, data):
    part = data.draw(stretches(winding.length_mm))
    assert winding.stretch_to_child(winding.stretch_to_parent(part)) == part


@given(windings(), stretches())
def test_backward_then_forward_is_the_part_that_was_wound(winding, stretch):
    on_child = winding.stretch_to_child(stretch)
    there = None if on_child is None else winding.stretch_to_parent(on_child)
    assert there == stretch.clip(winding.origin)


@given(stretches(), st.data())
def test_two_turned_windings_make_a_straight_one(outer, data):
    inner = data.draw(stretches(outer.length_mm))
    first, second = Winding(outer, is_turned=True), Winding(inner, is_turned=True)
    straight = Winding(first.stretch_to_parent(inner), is_turned=False)
    point = data.draw(st.integers(0, inner.length_mm))
    assert first.to_parent(second.to_parent(point)) == straight.to_parent(point)


@given(st.data(), st.lists(st.booleans(), max_size=6))
def test_the_affine_map_agrees_with_going_step_by_step(data, turns):
    chain, length_mm = [], LENGTH_MM
    for is_turned in turns:
        chain.append(Winding(data.draw(stretches(length_mm)), is_turned))
        length_mm = chain[-1].length_mm
    point = data.draw(st.integers(0, length_mm))
    carried, stepped = Affine(), point
    for winding in reversed(chain):
        carried, stepped = carried.then(winding), winding.to_parent(stepped)
    assert carried.at(point) == stepped


def test_a_defect_on_a_twice_wound_piece_is_traced_to_the_mills_metre():
    # Reel 0-500 m; its 400-500 m wound to a drum (turned); the piece is the drum's 25-35 m.
    piece = Winding(Stretch(25_000, 35_000), is_turned=False)
    drum = Winding(Stretch(400_000, 500_000), is_turned=True)
    to_mill = Affine().then(piece).then(drum)
    assert to_mill == Affine(-1, 475_000)
    assert to_mill.at(3_200) == 471_800
    assert to_mill.stretch_at(Stretch(0, 10_000)) == Stretch(465_000, 475_000)


@given(stretches(), st.data())
def test_a_split_piece_rejoins_to_its_own_length(piece, data):
    cut = data.draw(st.integers(piece.from_mm, piece.to_mm))
    parts = [Stretch(a, b) for a, b in ((piece.from_mm, cut), (cut, piece.to_mm)) if a < b]
    assert sum(part.length_mm for part in parts) == piece.length_mm
    assert piece not in free_stretches(LENGTH_MM, parts)
    assert all(not gap.overlaps(piece) for gap in free_stretches(LENGTH_MM, parts))
