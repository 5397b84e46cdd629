from certs.documents.piece_groups import piece_groups


def piece(code, **changed):
    facts = {
        "code": code, "designation": "8 6x19S-IWRC 1770 B sZ", "reel": "R-1", "from_mm": 0,
        "to_mm": 5000, "mill_stretch": {"reel": "R-1", "from_mm": 0, "to_mm": 5000},
        "heats": [{"number": "583107"}], "mill_documents": [{"kind": "3.1", "number": "7"}],
        "ends": "both ends seized", "tolerance": "", "tags": [],
    }  # fmt: skip
    return facts | changed


def codes(groups):
    return [[one["code"] for one in group.pieces] for group in groups]


def test_pieces_alike_stand_together_in_their_order():
    other = {"designation": "6 7x7-WSC 1770 B sZ"}
    groups = piece_groups([piece("P-1"), piece("P-2", **other), piece("P-3")])
    assert codes(groups) == [["P-1", "P-3"], ["P-2"]]


def test_another_heat_or_document_or_reel_parts_them():
    changed = [
        {"heats": [{"number": "583108"}]},
        {"mill_documents": [{"kind": "2.2", "number": "7"}]},
        {"reel": "R-2"},
    ]
    groups = piece_groups([piece("P-0"), *(piece(f"P-{n}", **c) for n, c in enumerate(changed, 1))])
    assert codes(groups) == [["P-0"], ["P-1"], ["P-2"], ["P-3"]]


def test_the_mills_metres_are_told_where_they_are_others():
    stretch = {"reel": "R-0", "from_mm": 100_000, "to_mm": 105_000}
    (own,) = piece_groups([piece("P-1")])
    (wound,) = piece_groups([piece("P-1", mill_stretch=stretch)])
    assert (own.is_of_mill_reel, wound.is_of_mill_reel) == (True, False)
    assert wound.columns == own.columns + 1


def test_what_differs_within_a_group_gets_its_column():
    (group,) = piece_groups(
        [
            piece("P-1", tags=["ABC"], tolerance="ordered 5.000 m −0/+50 mm"),
            piece("P-2", ends="cut"),
        ]
    )
    assert (group.ends, group.has_orders, group.has_tags, group.columns) == ("", True, True, 6)
