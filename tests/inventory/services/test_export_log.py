"""The exported files are read back here with the rules alone, as a monitor would."""

import json

import pytest
from django.db import connection, transaction

from inventory.models import JournalEntry, JournalHead, MerkleNode
from inventory.models.guards import take_down
from inventory.models.ledger_guards import GUARDS
from inventory.queries.checkpoints import log_keys, standing_checkpoint
from inventory.rules.checkpoint import open_checkpoint
from inventory.rules.merkle import leaf_hash, root
from inventory.rules.tiles import levels_of, read_bundle, read_tile, tiles_of
from inventory.services import journal
from inventory.services.checkpoint import journal_origin, make_checkpoint
from inventory.services.export_log import CannotExport, export_log
from inventory.services.trouble import StorageTrouble
from tests.factories import MOMENT, given_keys, given_person, given_piece
from tests.inventory.services.record import refuses

pytestmark = pytest.mark.django_db


def append(count):
    person = given_person()
    with transaction.atomic():
        for _ in range(count):
            journal.append(at=MOMENT, by=person, act="a", subject="s", detail={})


def signed_at(size):
    given_keys()
    given_person()
    append(size - JournalHead.objects.get().size)
    return make_checkpoint(at=MOMENT)


def read_log(folder):
    """Everything of the log, from its files: what it says of itself, and the root of its entries.

    Each tile is checked against the tiles below it: C2SP tlog-tiles, a hash of a level is the root
    of a full tile of the level below.
    """
    note = (folder / "checkpoint").read_text(encoding="utf-8")
    head = open_checkpoint(note, keys=log_keys(journal_origin())).head
    entries = []
    for tile in tiles_of(head.size, level=0):
        entries.extend(read_bundle((folder / tile.entries_path).read_bytes()))
    below = [leaf_hash(entry) for entry in entries]
    for level in levels_of(head.size):
        told = []
        for tile in tiles_of(head.size, level=level):
            told.extend(read_tile((folder / tile.path).read_bytes()))
        assert told == below
        full = range(0, len(told) - len(told) % 256, 256)
        below = [root(told[at : at + 256]) for at in full]
    return head, entries


@pytest.mark.parametrize("size", [20, 256, 300, 515])
def test_a_monitor_reads_the_log_back_and_finds_the_signed_root(tmp_path, size):
    standing = signed_at(size)
    assert export_log(tmp_path / "log").size == size
    head, entries = read_log(tmp_path / "log")
    assert (head.size, head.root.hex()) == (standing.size, standing.root)
    assert root([leaf_hash(entry) for entry in entries]) == head.root
    texts = JournalEntry.objects.order_by("number").values_list("canonical", flat=True)
    assert [entry.decode() for entry in entries] == list(texts)


def files_in(folder):
    return {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}


def test_the_files_lie_where_the_specification_says(tmp_path):
    """C2SP tlog-tiles: a tree of 300 has a full tile and one of 44, and one above of width 1."""
    signed_at(300)
    export_log(tmp_path)
    assert files_in(tmp_path) == {
        "checkpoint",
        "tile/0/000", "tile/0/001.p/44", "tile/1/000.p/1",
        "tile/entries/000", "tile/entries/001.p/44",
    }  # fmt: skip


def test_only_what_is_new_is_written(tmp_path):
    signed_at(300)
    assert export_log(tmp_path).files == 6
    assert export_log(tmp_path).files == 0
    before = (tmp_path / "tile/0/000").stat().st_mtime_ns
    signed_at(310)
    assert export_log(tmp_path).files == 3
    assert (tmp_path / "tile/0/000").stat().st_mtime_ns == before
    assert read_log(tmp_path)[0].size == 310


def test_a_full_tile_takes_the_place_of_the_partial_ones(tmp_path):
    signed_at(200)
    export_log(tmp_path)
    signed_at(256)
    export_log(tmp_path)
    assert files_in(tmp_path) == {
        "checkpoint", "tile/0/000", "tile/1/000.p/1", "tile/entries/000",
    }  # fmt: skip


def test_an_export_that_was_broken_off_is_made_whole(tmp_path):
    signed_at(300)
    export_log(tmp_path)
    (tmp_path / "tile/entries/000").unlink()
    (tmp_path / "checkpoint").unlink()
    (tmp_path / "tile/entries/000.part").write_bytes(b"half")
    export_log(tmp_path)
    assert read_log(tmp_path)[0].size == 300
    assert not (tmp_path / "tile/entries/000.part").exists()


def test_a_tile_costs_one_query(tmp_path, django_assert_num_queries):
    signed_at(515)
    # Checkpoint; head, leaves and nodes of the root; three tiles of entries, one above.
    with django_assert_num_queries(8):
        export_log(tmp_path)


def test_without_a_checkpoint_nothing_is_written(tmp_path):
    given_piece()
    with refuses(CannotExport, "manage.py checkpoint"):
        export_log(tmp_path)
    assert files_in(tmp_path) == set()


def edit_an_entry():
    entry = JournalEntry.objects.get(number=5)
    told = json.loads(entry.canonical) | {"act": "another"}
    JournalEntry.objects.filter(number=5).update(canonical=json.dumps(told))


def lose_an_entry():
    JournalEntry.objects.filter(number=5).delete()


def write_a_node_anew():
    MerkleNode.objects.filter(level=8).update(hash="0" * 64)


def lose_a_node():
    MerkleNode.objects.filter(level=8).delete()


@pytest.mark.parametrize(
    "tamper",
    [edit_an_entry, lose_an_entry, write_a_node_anew, lose_a_node],
    ids=lambda tamper: tamper.__name__.replace("_", " "),
)
def test_a_journal_that_was_changed_is_not_published(tmp_path, tamper):
    signed_at(300)
    take_down(connection, GUARDS)
    tamper()
    with refuses(CannotExport, "Run manage.py audit"):
        export_log(tmp_path)
    assert not (tmp_path / "checkpoint").exists()


def test_a_journal_written_anew_does_not_overwrite_what_was_published(tmp_path):
    """The forger has the key, the database and all time: the files outside still show it."""
    signed_at(300)
    export_log(tmp_path)
    published = {name: (tmp_path / name).read_bytes() for name in files_in(tmp_path)}
    take_down(connection, GUARDS)
    JournalEntry.objects.all().delete()
    MerkleNode.objects.all().delete()
    standing_checkpoint().delete()
    JournalHead.objects.update(size=0, peaks=[], chain_hash=journal.EMPTY_CHAIN)
    append(320)
    make_checkpoint(at=MOMENT)
    with refuses(CannotExport, "does not extend"):
        export_log(tmp_path)
    assert {name: (tmp_path / name).read_bytes() for name in files_in(tmp_path)} == published


@pytest.mark.parametrize(
    "note",
    [
        pytest.param("no note", id="no note"),
        pytest.param(
            "a.example/log\n3\n" + "A" * 43 + "=\n\n— a.example/log AAAAAAAA\n", id="of another key"
        ),
    ],
)
def test_a_folder_of_another_log_is_left_alone(tmp_path, note):
    signed_at(300)
    (tmp_path / "checkpoint").write_text(note, encoding="utf-8")
    with refuses(CannotExport, "does not extend"):
        export_log(tmp_path)
    assert files_in(tmp_path) == {"checkpoint"}


def test_a_house_that_moved_goes_on_with_its_folder(tmp_path, settings):
    signed_at(300)
    export_log(tmp_path)
    settings.PUBLIC_ORIGIN = "https://moved.example"
    signed_at(310)
    export_log(tmp_path)
    assert read_log(tmp_path)[0].origin == "moved.example/log"


def test_a_folder_that_cannot_be_written_is_said_so(tmp_path):
    signed_at(20)
    (tmp_path / "tile").write_text("a file in the way", encoding="utf-8")
    with refuses(StorageTrouble, "."):
        export_log(tmp_path)
