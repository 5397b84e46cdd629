"""What a frozen paper states, held against rope that fell; plain snapshots, no record."""

from decimal import Decimal

import pytest

from certs.queries.stated_strengths import overstated_in

FELL = {"R-1": Decimal(90)}
ROPE = {"reel": "R-1", "force": {"stated": "98.9", "unit": "kN"}}
# 98.9 kN x 0.9 / (5 x 9.81) = 1.8146... t; at 90 kN 1.651... t.
RATING = {
    "quantity": "working load limit",
    "words": "One leg. By formula",
    "stated": "1.81",
    "unit": "t",
    "derivation": {
        "unrounded": "1.814678899",
        "inputs": [
            {"symbol": "Fcert", "value": "98.9", "unit": "kN"},
            {"symbol": "KT", "value": "0.9", "unit": ""},
        ],
    },
}


def paper(*, rating=RATING, efficiency="0.9", reel="R-1"):
    return {
        "ropes": [{**ROPE, "reel": reel}],
        "pieces": [{"code": "P-1", "reel": reel}],
        "assembly": {
            "ends": [{"piece": "P-1", "efficiency": efficiency}],
            "ratings": [rating],
        },
    }


def told(snapshot):
    return [(one.quantity, one.stated, one.supported) for one in overstated_in(snapshot, FELL)]


def test_rope_and_rating_are_told():
    assert told(paper()) == [
        ("minimum breaking force of the rope of reel R-1", "98.9 kN", "90 kN"),
        ("working load limit: One leg", "1.81 t", "1.65 t"),
    ]


def test_other_rope_is_not_told():
    assert told(paper(reel="R-2")) == []


@pytest.mark.parametrize(
    "snapshot",
    [
        pytest.param(paper(efficiency="no value held"), id="an end without efficiency"),
        pytest.param(
            paper(rating={**RATING, "derivation": {"unrounded": "1.8", "inputs": []}}),
            id="a derivation of another form",
        ),
    ],
)
def test_what_cannot_be_worked_out_is_told_without_a_value(snapshot):
    assert told(snapshot)[1] == ("working load limit: One leg", "1.81 t", "")


def test_a_rating_that_the_fallen_rope_still_holds_is_not_told():
    low = {**RATING, "stated": "1.6"}
    assert [quantity for quantity, _, _ in told(paper(rating=low))] == [
        "minimum breaking force of the rope of reel R-1"
    ]


def test_a_paper_without_assembly_has_its_ropes_alone():
    assert len(told({"ropes": [ROPE], "pieces": [], "assembly": None})) == 1


# 1.651... t at 90 kN, as above.
@pytest.mark.parametrize(
    ("marked", "expected"),
    [
        pytest.param("1.7", [("1.7 t", "1.65 t")], id="a mark above what is left"),
        pytest.param("1.6", [], id="a mark that the fallen rope still holds"),
    ],
)
def test_a_mark_is_told_where_the_rope_no_longer_holds_it(marked, expected):
    snapshot = paper()
    snapshot["assembly"]["marked"] = {
        "quantity": "working load limit marked",
        "legs": "one leg",
        "stated": marked,
    }
    name = "working load limit marked: one leg"
    assert [one[1:] for one in told(snapshot) if one[0] == name] == expected
