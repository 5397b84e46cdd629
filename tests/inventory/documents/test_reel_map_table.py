from inventory.documents.reel_map_table import reel_map_table
from inventory.documents.reel_stretches import MapHeat, MapKind, MapStretch


def test_each_stretch_is_a_row_with_the_heats_it_shares_metres_with():
    rows = reel_map_table(
        length_mm=100_000,
        stretches=[MapStretch(0, 40_500, MapKind.SUPPLY, "P-1", href="/p/1/")],
        heats=[MapHeat(0, 100_000, "H1"), MapHeat(40_500, 100_000, "H2")],
    )
    said = [(r.from_m, r.to_m, r.length_m, r.went, r.label, r.heats) for r in rows]
    assert said == [
        ("0", "40.5", "40.5", "supplied", "P-1", "H1"),
        ("40.5", "100", "59.5", "still on the reel", "", "H1, H2"),
    ]


def test_a_crowded_reel_keeps_every_row():
    stretches = [MapStretch(i, i + 1, MapKind.SAMPLE, f"S-{i}") for i in range(300)]
    labels = [row.label for row in reel_map_table(length_mm=10**6, stretches=stretches)]
    assert labels[:300] == [f"S-{i}" for i in range(300)]


def test_a_hold_is_in_the_row():
    (row,) = reel_map_table(length_mm=9, stretches=[MapStretch(0, 9, MapKind.HELD, "")])
    assert (row.is_held, row.went) == (True, "on the reel, under hold: do not use")
