import pytest
from django.db import connection, transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from inventory.models import JournalEntry, MerkleNode
from inventory.models.guards import take_down
from inventory.models.ledger_guards import GUARDS
from inventory.queries.journal_proofs import (
    BrokenTree,
    NoSuchProof,
    consistency_proof,
    inclusion_proof,
    journal_size,
    root_at,
)
from inventory.rules import merkle
from inventory.services import journal
from tests.factories import MOMENT, given_person

pytestmark = pytest.mark.django_db
# The database is the same for all examples of a property: none of them writes.
reading = settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60)


@pytest.fixture
def leaves():
    person = given_person()
    for number in range(70):
        with transaction.atomic():
            journal.append(at=MOMENT, by=person, act="a", subject=f"S-{number}", detail={})
    entries = JournalEntry.objects.order_by("number")
    return [merkle.leaf_hash(text.encode()) for text in entries.values_list("canonical", flat=True)]


@reading
@given(data=st.data())
def test_an_inclusion_proof_is_that_of_the_definition_and_holds(leaves, data):
    size = data.draw(st.integers(1, len(leaves)))
    number = data.draw(st.integers(0, size - 1))
    proof = inclusion_proof(number=number, size=size)
    assert list(proof.path) == merkle.inclusion_path(number, leaves[:size])
    assert (proof.leaf, proof.root) == (leaves[number], merkle.root(leaves[:size]))
    assert merkle.verify_inclusion(
        index=number, size=size, leaf=proof.leaf, path=proof.path, root_hash=proof.root
    )


@reading
@given(data=st.data())
def test_a_consistency_proof_is_that_of_the_definition_and_holds(leaves, data):
    new_size = data.draw(st.integers(1, len(leaves)))
    old_size = data.draw(st.integers(1, new_size))
    proof = consistency_proof(old_size=old_size, new_size=new_size)
    assert list(proof.path) == merkle.consistency_path(old_size, leaves[:new_size])
    assert merkle.verify_consistency(
        old_size=old_size,
        new_size=new_size,
        old_root=merkle.root(leaves[:old_size]),
        new_root=merkle.root(leaves[:new_size]),
        path=proof.path,
    )
    assert (proof.old_root, proof.new_root) == (
        merkle.root(leaves[:old_size]),
        merkle.root(leaves[:new_size]),
    )


def test_the_root_of_every_size_is_read(leaves):
    assert [root_at(size) for size in range(len(leaves) + 1)] == [
        merkle.root(leaves[:size]) for size in range(len(leaves) + 1)
    ]


@pytest.mark.parametrize(("number", "size"), [(0, 65), (31, 67), (64, 70)])
def test_a_proof_costs_three_queries_whatever_the_size(
    leaves, django_assert_num_queries, number, size
):
    """The head, the leaves, the nodes."""
    with django_assert_num_queries(3):
        assert inclusion_proof(number=number, size=size)
    with django_assert_num_queries(3):
        assert consistency_proof(old_size=number + 1, new_size=size)


def test_a_proof_reads_few_rows(leaves, django_assert_num_queries):
    """At most two a level for the path, and one a level for the root."""
    size = len(leaves)
    assert MerkleNode.objects.count() >= size - size.bit_length()
    with django_assert_num_queries(3) as told:
        inclusion_proof(number=size // 2, size=size)
    asked = sum(query["sql"].count('"level" = ') for query in told.captured_queries)
    assert 0 < asked <= 3 * size.bit_length()


@pytest.mark.parametrize(("number", "size"), [(5, 5), (0, 0), (0, 10**6), (-1, 5)])
def test_an_entry_that_was_not_there_is_not_proved(leaves, number, size):
    with pytest.raises(NoSuchProof, match="entr"):
        inclusion_proof(number=number, size=size)


@pytest.mark.parametrize(("old_size", "new_size"), [(0, 5), (6, 5), (1, 10**6)])
def test_a_size_that_never_was_is_not_proved(leaves, old_size, new_size):
    with pytest.raises(NoSuchProof):
        consistency_proof(old_size=old_size, new_size=new_size)


def test_the_size_is_that_of_the_entries(leaves):
    assert journal_size() == len(leaves)


@pytest.mark.parametrize("model", [MerkleNode, JournalEntry])
def test_a_stored_hash_that_is_gone_is_said_so(leaves, model):
    take_down(connection, GUARDS)
    model.objects.all().delete()
    with pytest.raises(BrokenTree, match="audit"):
        root_at(69)


def test_an_empty_journal_has_the_root_of_nothing():
    assert (journal_size(), root_at(0)) == (0, merkle.EMPTY_ROOT)
