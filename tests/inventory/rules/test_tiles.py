import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.rules.merkle import leaf_hash, root
from inventory.rules.tiles import (
    MOST_ENTRY_BYTES,
    Tile,
    bundle_content,
    levels_of,
    read_bundle,
    read_tile,
    tile_content,
    tile_place,
    tiles_of,
)


@pytest.mark.parametrize(
    ("index", "place"),
    [
        pytest.param(1234067, "x001/x234/067", id="C2SP tlog-tiles, its example"),
        (0, "000"),
        (999, "999"),
        (1000, "x001/000"),
    ],
)
def test_the_place_of_a_tile(index, place):
    assert tile_place(index) == place


def told(size):
    return {
        level: [(tile.is_full, tile.width) for tile in tiles_of(size, level=level)]
        for level in levels_of(size)
    }


def test_the_published_tree_of_seventy_thousand():
    """C2SP tlog-tiles: 273 full and one of 112; one full and one of 17; one of width 1."""
    assert told(70_000) == {
        0: [(True, 256)] * 273 + [(False, 112)],
        1: [(True, 256), (False, 17)],
        2: [(False, 1)],
    }


def test_the_published_tree_of_two_hundred_and_fifty_six():
    """C2SP tlog-tiles: a full tile of level 0, and one of level 1 of width 1."""
    assert told(256) == {0: [(True, 256)], 1: [(False, 1)]}


def test_an_empty_log_has_no_tile():
    assert told(0) == {}


@pytest.mark.parametrize(
    ("tile", "path", "entries"),
    [
        (Tile(0, 0, 112), "tile/0/000.p/112", "tile/entries/000.p/112"),
        (Tile(1, 1000, 256), "tile/1/x001/000", "tile/entries/x001/000"),
    ],
    ids=["partial", "full"],
)
def test_the_paths_of_a_tile(tile, path, entries):
    assert (tile.path, tile.entries_path) == (path, entries)


@given(st.integers(1, 2_000_000))
def test_the_tiles_of_a_level_hold_each_hash_once(size):
    for level in levels_of(size):
        tiles = list(tiles_of(size, level=level))
        assert [tile.first for tile in tiles] == [256 * at for at in range(len(tiles))]
        assert sum(tile.width for tile in tiles) == size // 256**level
        assert all(tile.is_full for tile in tiles[:-1])


@given(st.lists(st.binary(max_size=300), max_size=20))
def test_entries_are_read_as_they_were_written(entries):
    assert read_bundle(bundle_content(entries)) == entries


@given(st.lists(st.binary(max_size=8).map(leaf_hash), min_size=1, max_size=256))
def test_hashes_are_read_as_they_were_written(hashes):
    assert root(read_tile(tile_content(hashes))) == root(hashes)


def test_an_entry_stands_behind_its_length():
    """C2SP tlog-tiles: a big-endian uint16 before each entry."""
    assert bundle_content([b"ab", b"", b"x" * 258]) == (
        b"\x00\x02ab" + b"\x00\x00" + b"\x01\x02" + b"x" * 258
    )


def test_an_entry_that_is_too_long_is_refused():
    assert bundle_content([b"x" * MOST_ENTRY_BYTES])
    with pytest.raises(ValueError, match="65535"):
        bundle_content([b"x" * (MOST_ENTRY_BYTES + 1)])


@pytest.mark.parametrize("content", [b"\x00", b"\x00\x02a", b"\x00\x01ab"])
def test_entries_cut_short_are_refused(content):
    with pytest.raises(ValueError, match="before the entry"):
        read_bundle(content)


@pytest.mark.parametrize("content", [b"", b"x" * 31, b"x" * 32 * 257])
def test_what_is_no_tile(content):
    with pytest.raises(ValueError, match="whole hashes"):
        read_tile(content)
