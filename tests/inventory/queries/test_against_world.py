"""Every answer of the genealogy against millimetres that remember where they were."""

from collections import defaultdict
from contextlib import contextmanager

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from inventory.queries.held import held_pieces, held_reels
from inventory.queries.holds import held_stretches, holds_on_piece, holds_on_reel
from inventory.queries.neighbours import neighbours
from inventory.queries.stock import clear_on_reel, free_on_reel, reel_balance, stock_of
from inventory.queries.trace_back import back_from_pieces, point_on_piece, trace_back
from inventory.queries.trace_forward import forward, forward_from_heat, forward_from_piece
from tests.inventory.queries import rope
from tests.inventory.queries.world import World, plans

pytestmark = pytest.mark.django_db
many = settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@contextmanager
def world(plan):
    """The plan carried out, and forgotten after."""
    with transaction.atomic():
        yield World(*plan)
        transaction.set_rollback(True)


def spread(stretches):
    return {mm for stretch in stretches for mm in range(stretch.from_mm, stretch.to_mm)}


def cell_at(ancestor, mm):
    """The cell that begins at position mm of the asked scale, found by its two ends."""
    return min(ancestor.at(mm), ancestor.at(mm + 1))


@many
@given(plans)
def test_backward_each_millimetre_is_where_it_was(plan):
    with world(plan) as w:
        for package, a, b in w.windows():
            past = package.cells[a].before("reel", package.reel.pk)
            found = trace_back(reel_id=package.reel.pk, from_mm=a, to_mm=b)
            reels = [pk for kind, pk, _ in past if kind == "reel"]
            assert [ancestor.reel_id for ancestor in found] == reels[::-1]
            assert [ancestor.depth for ancestor in found] == list(range(len(found)))
            for ancestor in found:
                cells = w.packages[ancestor.reel_id].cells
                assert set(cells[ancestor.from_mm : ancestor.to_mm]) == set(package.cells[a:b])
                for mm in range(a, b):
                    assert cells[cell_at(ancestor, mm)] is package.cells[mm]


@many
@given(plans)
def test_points_of_a_piece_are_beside_its_own_millimetres(plan):
    with world(plan) as w:
        for pk, cells in w.in_piece.items():
            for mm, cell in enumerate(cells):
                near = point_on_piece(w.pieces[pk], mm_from_near_end=mm)
                far = point_on_piece(w.pieces[pk], mm_from_near_end=mm + 1)
                past = [event for event in cell.before("piece", pk) if event[0] == "reel"]
                places = [position for _, _, position in past][::-1]
                found = [min(n.metre_mm, f.metre_mm) for n, f in zip(near, far, strict=True)]
                assert found == places


@many
@given(plans)
def test_forward_reaches_the_same_pieces_and_metres(plan):
    with world(plan) as w:
        for package, a, b in w.windows():
            if a == b:
                continue
            asked = defaultdict(set)
            for cell in package.cells[a:b]:
                later = cell.after("reel", package.reel.pk)
                for kind, pk, position in later:
                    asked[kind, pk].add((later[0][2], position))
            found = forward(reel_id=package.reel.pk, from_mm=a, to_mm=b)
            assert {("piece", p.piece_id): spread(p.touched) for p in found.pieces} == {
                key: {on_asked for on_asked, _ in mm}
                for key, mm in asked.items()
                if key[0] == "piece"
            }
            assert {("reel", r.reel_id): spread(r.touched) for r in found.reels} == {
                key: {own for _, own in mm} for key, mm in asked.items() if key[0] == "reel"
            }


@many
@given(plans)
def test_forward_places_each_piece_on_the_reel_asked_for(plan):
    with world(plan) as w:
        for reel in w.mill_reels:
            for piece in forward(reel_id=reel.pk, from_mm=0, to_mm=reel.length_mm).pieces:
                places = {cell.past[0][2] for cell in w.in_piece[piece.piece_id]}
                assert set(range(piece.asked_from_mm, piece.asked_to_mm)) == places


@many
@given(plans)
def test_forward_of_a_piece_is_the_piece_and_what_came_of_it(plan):
    with world(plan) as w:
        for pk, piece in w.pieces.items():
            later = {event[:2] for cell in w.in_piece[pk] for event in cell.after("piece", pk)}
            found = forward_from_piece(piece)
            things = {("piece", p.piece_id) for p in found.pieces}
            assert things | {("reel", r.reel_id) for r in found.reels} == later


@many
@given(plans, st.integers(0, 40), st.integers(1, 40), st.integers(0, 40))
def test_a_heat_is_in_just_the_pieces_that_hold_its_metres(plan, first, size, other):
    with world(plan) as w:
        heat = rope.heat()
        marked = set()
        reel = w.mill_reels[0]
        for start in sorted({first, other}):
            stretch = range(start, min(start + size, reel.length_mm))
            if stretch:
                rope.tie(reel, heat, stretch.start, stretch.stop)
                marked |= {w.packages[reel.pk].cells[mm] for mm in stretch}
        holding = {pk for pk, cells in w.in_piece.items() if marked & set(cells)}
        assert {p.piece_id for p in forward_from_heat(heat).pieces} == holding
        for trace in back_from_pieces(list(w.pieces.values())):
            metres = {c.past[0][2] for c in marked & set(w.in_piece[trace.piece.pk])}
            assert spread(trace.heats) == metres


def held_cells(w, picks):
    """Place holds and return [(hold, {(cell, its first event under the hold)})] as marks."""
    marks = []
    for kind, which, first, size in picks:
        if kind == "piece" and w.pieces:
            pk = list(w.pieces)[which % len(w.pieces)]
            marks.append((rope.hold(piece=w.pieces[pk]), ("piece", pk), None))
            continue
        reel = list(w.packages.values())[which % len(w.packages)].reel
        start = first % reel.length_mm
        stop = min(reel.length_mm, start + 1 + size)
        if kind == "heat":
            reel = w.mill_reels[which % len(w.mill_reels)]
            start %= reel.length_mm
            stop = min(reel.length_mm, start + 1 + size)
            heat = rope.heat()
            rope.tie(reel, heat, start, stop)
            placed = rope.hold(heat=heat)
        else:
            placed = rope.hold(reel=reel, from_mm=start, to_mm=stop)
        marks.append((placed, ("reel", reel.pk), range(start, stop)))
    return marks


def holds_in(past, marks):
    return {
        placed.pk
        for placed, key, metres in marks
        for kind, pk, position in past
        if (kind, pk) == key and (metres is None or position in metres)
    }


hold_picks = st.lists(
    st.tuples(
        st.sampled_from(["piece", "reel", "heat"]),
        st.integers(0, 30),
        st.integers(0, 40),
        st.integers(0, 15),
    ),
    min_size=1,
    max_size=4,
)


@many
@given(plans, hold_picks)
def test_holds_reach_just_the_rope_that_went_through_them(plan, picks):
    with world(plan) as w:
        marks = held_cells(w, picks)
        under = {}
        for pk, cells in w.in_piece.items():
            under[pk] = set().union(*(holds_in(c.before("piece", pk), marks) for c in cells))
            assert {hold.pk for hold in holds_on_piece(w.pieces[pk])} == under[pk]
        assert held_pieces() == {pk for pk, holds in under.items() if holds}


@many
@given(plans, hold_picks)
def test_holds_lie_on_just_the_metres_of_a_reel_that_went_through_them(plan, picks):
    with world(plan) as w:
        marks = held_cells(w, picks)
        on_reels = {}
        for package, a, b in w.windows():
            pk = package.reel.pk
            by_mm = [holds_in(cell.before("reel", pk), marks) for cell in package.cells]
            if a < b:
                found = holds_on_reel(package.reel, from_mm=a, to_mm=b)
                assert {hold.pk for hold in found} == set().union(*by_mm[a:b])
            on_reels[pk] = {mm for mm, holds in enumerate(by_mm) if holds}
            assert spread(held_stretches(package.reel)) == on_reels[pk]
        held = held_reels()
        assert {pk: spread(parts) for pk, parts in held.items()} == {
            pk: metres for pk, metres in on_reels.items() if metres
        }


@many
@given(plans, hold_picks)
def test_what_is_left_and_clear_is_what_no_cut_and_no_hold_took(plan, picks):
    with world(plan) as w:
        marks = held_cells(w, picks)
        for package in w.packages.values():
            reel = package.reel
            left = {mm for run in package.free_runs() for mm in run}
            held = {
                mm
                for mm, cell in enumerate(package.cells)
                if holds_in(cell.before("reel", reel.pk), marks)
            }
            [stock] = stock_of([reel])
            assert spread(free_on_reel(reel)) == left
            assert spread(clear_on_reel(reel)) == left - held
            assert stock.remaining_mm == reel_balance(reel).remaining_mm == len(left)
            assert stock.longest_free_mm == max(map(len, package.free_runs()), default=0)
            assert stock.is_held == bool(left & held)


@many
@given(plans, st.integers(0, 60), st.integers(1, 12))
def test_neighbours_are_the_pieces_within_the_span(plan, place, span):
    with world(plan) as w:
        for package in w.packages.values():
            if len(package.cells) < 2:
                continue
            point = 1 + place % (len(package.cells) - 1)
            # The point lies between two millimetres; on the mill's reel they are neighbours too.
            sides = [package.cells[point - 1].past[0], package.cells[point].past[0]]
            centre = max(position for _, _, position in sides)
            near = {}
            for pk, cells in w.in_piece.items():
                places = [cell.past[0][2] for cell in cells]
                within = {p for p in places if centre - span <= p < centre + span}
                if within and cells[0].past[0][1] == sides[0][1]:
                    near[pk] = min(p - centre if p >= centre else centre - p - 1 for p in places)
            found = neighbours(package.reel, metre_mm=point, span_mm=span)
            assert {n.piece.piece_id: n.distance_mm for n in found} == near
            distances = [n.distance_mm for n in found]
            assert distances == sorted(distances)
