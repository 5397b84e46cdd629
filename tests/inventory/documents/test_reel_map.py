import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.documents.reel_bar import LEAST_WIDTH
from inventory.documents.reel_map import draw_reel_map
from inventory.documents.reel_stretches import MapHeat, MapKind, MapStretch
from tests.drawings import SVG, read_drawing


def bars(svg):
    """Return (from, to) -> (x, width) of the stretches drawn to scale."""
    rects = [
        r for r in read_drawing(svg).iter(SVG + "rect") if r.get("data-to-mm") not in {None, "0"}
    ]
    return {
        (int(r.get("data-from-mm")), int(r.get("data-to-mm"))): (
            float(r.get("x")),
            float(r.get("width")),
        )
        for r in rects
    }


def words(svg):
    return [node.text for node in read_drawing(svg).iter(SVG + "text")]


def supply(from_mm, to_mm, label="P", **more):
    return MapStretch(from_mm, to_mm, MapKind.SUPPLY, label, **more)


def two_hundred():
    return [supply(i * 5000, i * 5000 + 4800, f"P-{i}") for i in range(200)]


def test_stretches_are_drawn_to_scale():
    drawn = bars(draw_reel_map(length_mm=100_000, stretches=[supply(25_000, 50_000)]))
    (x0, w0), (x1, w1), (x2, w2) = (drawn[k] for k in sorted(drawn))
    assert w1 == pytest.approx((w0 + w1 + w2) / 4, abs=0.02)
    assert [x1 - x0, x2 - x1] == pytest.approx([w0, w1], abs=0.02)


def test_an_empty_reel_is_one_free_stretch():
    assert list(bars(draw_reel_map(length_mm=100_000, stretches=[]))) == [(0, 100_000)]


def test_a_millimetre_can_be_seen():
    stretches = [MapStretch(999_999, 1_000_000, MapKind.SAMPLE, "S-1")]
    svg = draw_reel_map(length_mm=1_000_000, stretches=stretches)
    assert bars(svg)[999_999, 1_000_000][1] == LEAST_WIDTH
    assert "S-1" in words(svg)


def test_two_hundred_stretches_are_all_drawn_and_the_missing_labels_counted():
    svg = draw_reel_map(length_mm=1_000_000, stretches=two_hundred())
    shown = sum(word.startswith("P-") for word in words(svg))
    assert len(bars(svg)) == 400
    assert any(word.startswith(f"{200 - shown} labels") for word in words(svg))


def test_labels_are_text_and_never_markup():
    svg = draw_reel_map(length_mm=1000, stretches=[supply(0, 900, "<a href='x'>&")])
    assert "<a href='x'>&" in words(svg)


def test_a_stretch_leads_to_its_page():
    svg = draw_reel_map(length_mm=1000, stretches=[supply(0, 900, "P-7", href="/pieces/7/")])
    link = read_drawing(svg).find(f".//{SVG}a")
    assert (link.get("href"), link[0].text) == ("/pieces/7/", "P-7, supplied, 0 to 0.9 m")


def test_the_description_adds_up_the_metres():
    stretches = [supply(0, 30_000), supply(30_000, 45_000)]
    desc = read_drawing(draw_reel_map(length_mm=100_000, stretches=stretches))[1]
    assert desc.text == (
        "A reel of 100 m, from its free end: 55 m still on the reel; 45 m supplied."
    )


def test_a_hold_is_written_in_the_legend():
    stretches = [supply(0, 500, is_held=True), MapStretch(600, 700, MapKind.HELD, "hold")]
    legend = words(draw_reel_map(length_mm=1000, stretches=stretches))
    assert "on the reel, under hold: do not use" in legend
    assert "left the reel, under hold: do not use" in legend


def test_what_is_looked_at_is_framed_and_explained():
    svg = draw_reel_map(length_mm=1000, stretches=[supply(0, 500, is_lit=True)])
    assert "heavy frame and ▲: what you are looking at" in words(svg)
    assert "what you are looking at" not in draw_reel_map(length_mm=1000, stretches=[])


def test_heats_of_the_same_metres_share_a_band():
    heats = [MapHeat(0, 1000, "H1"), MapHeat(0, 1000, "H2"), MapHeat(400, 1000, "H3")]
    drawn = words(draw_reel_map(length_mm=1000, stretches=[], heats=heats))
    assert {"H1, H2", "H3"} <= set(drawn)


def test_two_maps_on_a_page_have_ids_of_their_own():
    one, other = (draw_reel_map(length_mm=9, stretches=[], prefix=p) for p in ("a", "b"))
    ids = [{n.get("id") for n in read_drawing(svg).iter() if n.get("id")} for svg in (one, other)]
    assert not ids[0] & ids[1]


def test_the_same_reel_gives_the_same_bytes():
    assert draw_reel_map(length_mm=10**6, stretches=two_hundred()) == draw_reel_map(
        length_mm=10**6, stretches=two_hundred()[::-1]
    )


@st.composite
def any_reel(draw):
    length_mm = draw(st.integers(1, 2_000_000))
    cuts = sorted(draw(st.sets(st.integers(0, length_mm), max_size=40)))
    details = st.tuples(st.sampled_from(MapKind), st.text(max_size=30), st.booleans())
    return length_mm, [
        MapStretch(a, b, kind, label, is_lit=is_lit)
        for a, b in zip(cuts[::2], cuts[1::2], strict=False)
        for kind, label, is_lit in [draw(details)]
    ]


@given(any_reel())
def test_any_reel_is_drawn_whole_and_to_scale(reel):
    length_mm, stretches = reel
    svg = draw_reel_map(length_mm=length_mm, stretches=stretches)
    drawn = bars(svg)
    start = min(x for x, _ in drawn.values())
    per_mm = (max(x + w for x, w in drawn.values()) - start) / length_mm
    assert {(s.from_mm, s.to_mm) for s in stretches} <= set(drawn)
    for (from_mm, to_mm), (x, width) in drawn.items():
        assert width == pytest.approx(max((to_mm - from_mm) * per_mm, LEAST_WIDTH), abs=0.03)
        assert x == pytest.approx(start + from_mm * per_mm, abs=LEAST_WIDTH + 0.03)
