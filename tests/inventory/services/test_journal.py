import hashlib
import json
from datetime import timedelta, timezone

import pytest
import rfc8785
from django.db import transaction
from django.db.transaction import TransactionManagementError

from inventory.models import JournalEntry, JournalHead, MerkleNode, NumberSeries
from inventory.rules.merkle import root
from inventory.rules.roles import Role
from inventory.rules.tree_growth import root_of_peaks
from inventory.services import journal, numbering
from inventory.services.cut import CannotCut, cut_piece
from inventory.services.parties import register_party
from inventory.services.people import register_person
from tests.factories import MOMENT, given_machine, given_person, given_piece, given_reel

pytestmark = pytest.mark.django_db


def test_the_chain_is_sha_256_over_the_text_of_every_entry():
    """Again from the text alone: leaf as in RFC 9162, 2.1.1; link over 0x02, link before, leaf."""
    given_piece()
    link = hashlib.sha256(b"").digest()
    entries = list(JournalEntry.objects.order_by("number"))
    assert len(entries) > 5
    for number, entry in enumerate(entries):
        leaf = hashlib.sha256(b"\x00" + entry.canonical.encode()).digest()
        link = hashlib.sha256(b"\x02" + link + leaf).digest()
        assert (entry.number, entry.leaf_hash) == (number, leaf.hex())
        assert entry.chain_hash == link.hex()
    head = JournalHead.objects.get()
    assert (head.size, head.chain_hash) == (len(entries), link.hex())


def test_an_entry_is_canonical_and_tells_everything():
    person = given_person()
    with transaction.atomic():
        entry = journal.append(
            at=MOMENT, by=person, act="cut_piece", subject="P-1", detail={"b": 2, "a": "x"}
        )
    told = json.loads(entry.canonical)
    assert rfc8785.dumps(told).decode() == entry.canonical
    assert told["detail"] == {"a": "x", "b": 2}
    assert told["at"] == "2026-03-02T08:00:00.000+00:00"


def test_the_moment_is_told_in_utc():
    later = MOMENT.astimezone(timezone(timedelta(hours=5, minutes=30)))
    with transaction.atomic():
        entry = journal.append(at=later, by=given_person(), act="a", subject="s", detail={})
    assert json.loads(entry.canonical)["at"] == "2026-03-02T08:00:00.000+00:00"


def test_no_name_of_a_person_or_firm_is_in_the_journal(administrator):
    person = register_person(
        username="ottoline",
        full_name="Ottoline Quibble",
        role=Role.QA_OFFICER,
        password=None,
        by=administrator,
        at=MOMENT,
    )
    register_party(kind="mill", name="Zirkon Works", address="Lane 9", by=person, at=MOMENT)
    given_machine()
    text = "".join(JournalEntry.objects.values_list("canonical", flat=True))
    told = [n for n in ("ottoline", "Ottoline", "Quibble", "Zirkon", "Lane 9") if n in text]
    assert told == []
    assert journal.person_hash(person) in text


def test_the_salt_makes_two_people_of_one_name():
    person = given_person()
    before = journal.person_hash(person)
    person.journal_salt = "another"
    assert journal.person_hash(person) != before


def test_a_float_does_not_go_in():
    with pytest.raises(TypeError), transaction.atomic():
        journal.append(at=MOMENT, by=given_person(), act="a", subject="s", detail={"n": 0.1})


@pytest.mark.django_db(transaction=True)
def test_outside_a_transaction_nothing_is_written(committed_db):
    person = given_person()
    size = JournalEntry.objects.count()
    with pytest.raises(TransactionManagementError):
        journal.append(at=MOMENT, by=person, act="a", subject="s", detail={})
    with pytest.raises(TransactionManagementError):
        numbering.take_code("P")
    assert JournalEntry.objects.count() == size
    assert not NumberSeries.objects.filter(series="P").exists()


def test_a_refused_act_gives_its_number_back():
    reel = given_reel(length_m=10)
    given_piece(reel=reel, length_m=4)
    with pytest.raises(CannotCut):
        cut_piece(
            reel=reel,
            from_mm=4000,
            length_mm=10,
            purpose="supply",
            note="x" * 201,
            by=given_person(),
            at=MOMENT,
        )
    assert given_piece(reel=reel, length_m=4).code == "P-00002"


def test_each_kind_of_thing_counts_for_itself():
    with transaction.atomic():
        assert [numbering.take_code("P"), numbering.take_code("R"), numbering.take_code("P")] == [
            "P-00001",
            "R-00001",
            "P-00002",
        ]


def test_looking_at_the_next_number_takes_none():
    assert numbering.next_number("P") == 1
    given_piece()
    assert [numbering.next_number("P") for _ in range(2)] == [2, 2]


def _append(count=1):
    person = given_person()
    for _ in range(count):
        with transaction.atomic():
            journal.append(at=MOMENT, by=person, act="a", subject="s", detail={})


def test_the_tree_over_the_entries_has_the_root_of_its_peaks():
    """The root anew from the texts alone, by the definition of RFC 9162, 2.1.1."""
    _append(21)
    texts = JournalEntry.objects.order_by("number").values_list("canonical", flat=True)
    head = JournalHead.objects.get()
    peaks = [bytes.fromhex(peak) for peak in head.peaks]
    told = root_of_peaks(size=head.size, peaks=peaks)
    assert told == _root_by_definition([text.encode() for text in texts])


def _root_by_definition(entries):
    if len(entries) == 1:
        return hashlib.sha256(b"\x00" + entries[0]).digest()
    split = max(2**power for power in range(16) if 2**power < len(entries))
    left, right = _root_by_definition(entries[:split]), _root_by_definition(entries[split:])
    return hashlib.sha256(b"\x01" + left + right).digest()


def test_every_complete_subtree_is_stored_once():
    _append(21)
    leaves = list(JournalEntry.objects.order_by("number").values_list("leaf_hash", flat=True))
    hashes = [bytes.fromhex(leaf) for leaf in leaves]
    expected = {
        (level, index): root(hashes[index << level : (index + 1) << level]).hex()
        for level in range(1, len(leaves).bit_length())
        for index in range(len(leaves) >> level)
    }
    rows = MerkleNode.objects.values_list("level", "index", "hash")
    assert {(level, index): told for level, index, told in rows} == expected
    assert len(rows) == len(expected)


def test_an_entry_costs_four_queries_or_three(django_assert_num_queries):
    """Head, entry, head again; and one insertion of all nodes where the entry completes any."""
    person = given_person()
    _append()
    size = JournalHead.objects.get().size
    for number in range(size, size + 16):
        with transaction.atomic(), django_assert_num_queries(4 if number & 1 else 3):
            journal.append(at=MOMENT, by=person, act="a", subject="s", detail={})


def test_an_act_that_is_undone_leaves_no_node():
    _append(2)
    before = JournalHead.objects.get().peaks, MerkleNode.objects.count()
    with transaction.atomic():
        _append(7)
        transaction.set_rollback(True)
    assert (JournalHead.objects.get().peaks, MerkleNode.objects.count()) == before
