import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.documents.paper_ends import alike_ends


def end(piece, place, lot="F-1", kt="0.9"):
    fittings = [{"lot": lot, "quantity": 1}]
    return {
        "piece": piece,
        "end": place,
        "kind": "eye",
        "efficiency": kt,
        "source": "printed",
        "fittings": fittings,
    }


def test_ends_made_alike_share_a_row():
    ends = [end(piece, place) for piece in ("P-1", "P-2") for place in ("near end", "far end")]
    (row,) = alike_ends(ends)
    assert row.places == (("P-1", "near end and far end"), ("P-2", "near end and far end"))
    assert row.facts["efficiency"] == "0.9"


@pytest.mark.parametrize("other", [{"lot": "F-2"}, {"kt": "0.8"}])
def test_an_end_of_another_lot_or_efficiency_has_its_own_row(other):
    rows = alike_ends([end("P-1", "near end"), end("P-1", "far end", **other)])
    assert [row.places for row in rows] == [(("P-1", "near end"),), (("P-1", "far end"),)]


@given(st.lists(st.tuples(st.integers(1, 4), st.booleans(), st.sampled_from("abc")), unique=True))
def test_every_end_is_told_once(told):
    ends = [end(f"P-{n}", "near" if near else "far", lot) for n, near, lot in told]
    found = [
        (piece, place)
        for row in alike_ends(ends)
        for piece, places in row.places
        for place in places.split(" and ")
    ]
    assert sorted(found) == sorted((one["piece"], one["end"]) for one in ends)
