"""Checkpoints extend each other; the tree is computed anew here from the texts alone."""

from base64 import b64decode
from datetime import timedelta
from hashlib import sha256

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
from django.db import connection, transaction

from inventory.models import Checkpoint, JournalEntry, JournalHead, MerkleNode, SigningKey
from inventory.models.guards import take_down
from inventory.models.ledger_guards import GUARDS
from inventory.queries.checkpoints import checkpoint_over, log_keys, standing_checkpoint
from inventory.rules.checkpoint import open_checkpoint
from inventory.rules.merkle import leaf_hash, root
from inventory.rules.roles import Role
from inventory.rules.signed_note import NoteKey, NotSigned, read_note
from inventory.rules.signing import Purpose
from inventory.services import journal
from inventory.services.checkpoint import (
    CannotCheckpoint,
    checkpoint_if_able,
    make_checkpoint,
)
from inventory.services.key_files import NoKey
from inventory.services.keyring import ensure_keys, make_key, revoke_key
from inventory.services.open_keys import forget_opened_keys
from tests.factories import MOMENT, given_person
from tests.inventory.services.record import refuses

pytestmark = pytest.mark.django_db
ORIGIN = "records.example/log"


@pytest.fixture(autouse=True)
def keys_root(tmp_path, settings):
    settings.KEYS_ROOT = tmp_path / "keys"
    settings.PUBLIC_ORIGIN = "https://records.example"
    forget_opened_keys()
    return settings.KEYS_ROOT


@pytest.fixture
def keeper():
    person = given_person(Role.ADMINISTRATOR)
    ensure_keys(by=person, at=MOMENT)
    return person


def append(count=1):
    person = given_person()
    for _ in range(count):
        with transaction.atomic():
            journal.append(at=MOMENT, by=person, act="a", subject="s", detail={})


def root_of_the_texts(size):
    texts = JournalEntry.objects.order_by("number").values_list("canonical", flat=True)[:size]
    return root([leaf_hash(text.encode()) for text in texts])


def test_a_checkpoint_tells_the_root_of_all_entries_and_is_signed(keeper):
    append(5)
    made = make_checkpoint(at=MOMENT)
    size = JournalEntry.objects.count()
    opened = open_checkpoint(made.note, keys=log_keys(ORIGIN))
    assert (opened.head.origin, opened.head.size) == (ORIGIN, size)
    assert opened.head.root == root_of_the_texts(size)
    assert (made.size, made.root) == (size, opened.head.root.hex())


def test_the_note_is_checked_without_any_code_of_the_record(keeper):
    """C2SP signed-note by hand: text, empty line, dash, name, key id and signature in base64."""
    append()
    text, line = make_checkpoint(at=MOMENT).note.split("\n\n")
    dash, name, encoded = line.removesuffix("\n").split(" ")
    key = SigningKey.objects.get(purpose="log")
    public = b64decode(key.public_key)
    key_id = sha256(f"{ORIGIN}\n".encode() + b"\x01" + public).digest()[:4]
    raw = b64decode(encoded)
    assert (dash, name, raw[:4]) == ("—", ORIGIN, key_id)
    Ed25519PublicKey.from_public_bytes(public).verify(raw[4:], f"{text}\n".encode())


def test_nothing_new_gives_the_same_checkpoint(keeper):
    append()
    first = make_checkpoint(at=MOMENT)
    assert make_checkpoint(at=MOMENT + timedelta(days=1)) == first
    assert Checkpoint.objects.count() == 1


def test_it_extends_the_last_and_leaves_it(keeper):
    append(3)
    first = make_checkpoint(at=MOMENT)
    append(4)
    second = make_checkpoint(at=MOMENT)
    assert second.size == first.size + 4
    assert first.root == root_of_the_texts(first.size).hex()
    assert standing_checkpoint() == second


def test_it_goes_with_the_act_that_is_undone(keeper):
    append()
    with transaction.atomic():
        append()
        make_checkpoint(at=MOMENT)
        transaction.set_rollback(True)
    assert standing_checkpoint() is None


def test_it_costs_a_fixed_number_of_queries(keeper, django_assert_num_queries):
    append(20)
    make_checkpoint(at=MOMENT)
    append(30)
    # Savepoint and its release, head, last; size, leaves, nodes; key in use, overlapping keys,
    # key of the row, insertion.
    with django_assert_num_queries(11):
        make_checkpoint(at=MOMENT)


def test_an_empty_journal_is_not_signed():
    with refuses(CannotCheckpoint, "empty"):
        make_checkpoint(at=MOMENT)


def test_without_a_key_nothing_is_signed():
    append()
    with refuses(NoKey, "make_keys"):
        make_checkpoint(at=MOMENT)


@pytest.fixture
def signed(keeper):
    append(20)
    made = make_checkpoint(at=MOMENT)
    append(3)
    take_down(connection, GUARDS)
    return made


def truncate(signed):
    JournalEntry.objects.filter(number__gte=signed.size - 2).delete()
    peaks = JournalHead.objects.get().peaks[:1]
    JournalHead.objects.update(size=16, peaks=peaks)


def write_a_node_anew(signed):
    MerkleNode.objects.filter(level=4, index=0).update(hash="0" * 64)


def lose_the_nodes(signed):
    MerkleNode.objects.all().delete()


def write_the_peaks_anew(signed):
    peaks = JournalHead.objects.get().peaks
    JournalHead.objects.update(peaks=["0" * 64, *peaks[1:]])


def lose_the_peaks(signed):
    JournalHead.objects.update(peaks=[])


def write_the_whole_tree_anew(signed):
    """A forger who does it well: every entry, node and peak fits, but not what was signed."""
    size = JournalHead.objects.get().size
    JournalEntry.objects.all().delete()
    MerkleNode.objects.all().delete()
    JournalHead.objects.update(size=0, peaks=[], chain_hash=journal.EMPTY_CHAIN)
    append(size)


@pytest.mark.parametrize(
    "tamper",
    [
        truncate,
        write_a_node_anew,
        lose_the_nodes,
        write_the_peaks_anew,
        lose_the_peaks,
        write_the_whole_tree_anew,
    ],
    ids=lambda tamper: tamper.__name__.replace("_", " "),
)
def test_a_journal_that_is_another_is_not_signed(signed, tamper):
    tamper(signed)
    with refuses(CannotCheckpoint, "run manage.py audit"):
        make_checkpoint(at=MOMENT)
    assert Checkpoint.objects.count() == 1


def names_of(checkpoint):
    return [line.key_id for line in read_note(checkpoint.note).signatures]


def key_ids(*keys):
    return [NoteKey(ORIGIN, b64decode(key.public_key)).key_id for key in keys]


def test_after_a_rotation_the_former_key_signs_once_more(keeper):
    former = SigningKey.objects.get(purpose="log")
    first = make_checkpoint(at=MOMENT)
    newer = make_key(Purpose.LOG, is_evaluation=True, by=keeper, at=MOMENT)
    second = make_checkpoint(at=MOMENT)
    append()
    third = make_checkpoint(at=MOMENT)
    assert names_of(first) == key_ids(former)
    assert names_of(second) == key_ids(newer, former)
    assert names_of(third) == key_ids(newer)
    assert (second.key, third.key) == (newer, newer)
    for made in (first, second, third):
        assert open_checkpoint(made.note, keys=log_keys(ORIGIN)).head.size == made.size


def test_while_keys_overlap_both_sign(keeper):
    former = SigningKey.objects.get(purpose="log")
    newer = make_key(
        Purpose.LOG, is_evaluation=True, by=keeper, at=MOMENT, overlap=timedelta(days=2)
    )
    for _ in range(2):
        append()
        made = make_checkpoint(at=MOMENT + timedelta(days=1))
    assert names_of(made) == key_ids(newer, former)


def test_a_revoked_key_vouches_for_no_successor(keeper):
    former = SigningKey.objects.get(purpose="log")
    make_checkpoint(at=MOMENT)
    revoke_key(former.name, reason="copied", by=keeper, at=MOMENT)
    newer = make_key(Purpose.LOG, is_evaluation=True, by=keeper, at=MOMENT)
    assert names_of(make_checkpoint(at=MOMENT)) == key_ids(newer)


def test_a_former_key_whose_file_is_gone_is_done_without(keeper, keys_root):
    former = SigningKey.objects.get(purpose="log")
    make_checkpoint(at=MOMENT)
    newer = make_key(Purpose.LOG, is_evaluation=True, by=keeper, at=MOMENT)
    (keys_root / f"{former.name}.pem").unlink()
    forget_opened_keys()
    assert names_of(make_checkpoint(at=MOMENT)) == key_ids(newer)


def test_keys_of_other_purposes_open_no_checkpoint(keeper):
    made = make_checkpoint(at=MOMENT)
    other = SigningKey.objects.get(purpose="credential")
    with pytest.raises(NotSigned):
        open_checkpoint(made.note, keys=[NoteKey(ORIGIN, b64decode(other.public_key))])


def test_an_entry_is_covered_from_its_checkpoint_on(keeper):
    number = JournalHead.objects.get().size
    make_checkpoint(at=MOMENT)
    append()
    assert checkpoint_over(number) is None
    made = make_checkpoint(at=MOMENT)
    assert checkpoint_over(number) == checkpoint_over(0) == made


def test_an_act_is_not_held_up_for_want_of_a_key(caplog):
    append()
    assert checkpoint_if_able(at=MOMENT) is None
    assert "make_keys" in caplog.text


def test_where_the_key_is_at_hand_an_act_is_covered_at_once(keeper):
    append()
    assert checkpoint_if_able(at=MOMENT) == standing_checkpoint()
