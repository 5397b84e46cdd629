"""A small record with something of everything, and what somebody with the database can do to it."""

import json

from django.db import connection

from certs.models import Certificate, Tag
from certs.models.claim_guards import GUARDS as CLAIM_GUARDS
from certs.services.tags import issue_tag
from certs.services.withdraw import withdraw_certificate
from inventory.models import Hold, JournalEntry, JournalHead, MerkleNode
from inventory.models.guards import take_down
from inventory.models.ledger_guards import GUARDS as LEDGER_GUARDS
from inventory.rules.canonical import canonical_text
from inventory.rules.merkle import EMPTY_ROOT, chain_hash, leaf_hash
from inventory.rules.tree_growth import Grown, grow
from inventory.services.holds import release_hold
from tests.certs.claims import given_proof_test
from tests.certs.papers import (
    given_assembly_draft,
    given_certifiable_assembly,
    given_cut_length_draft,
    given_representative,
    issued,
)
from tests.factories import MOMENT, given_delivery, given_hold, given_person

ORIGIN = "https://records.example"
GUARDS = (*LEDGER_GUARDS, *CLAIM_GUARDS)


def given_a_record() -> None:
    """Two papers in force and one withdrawn, a tag, a delivery, and a hold that was released."""
    first = issued(given_cut_length_draft())
    piece = first.piece_ties.get().piece
    issue_tag(piece=piece, by=given_person(), at=MOMENT)
    given_delivery(piece)
    second = issued(given_cut_length_draft())
    withdraw_certificate(certificate=second, reason="A slip", by=given_person(), at=MOMENT)
    hold = given_hold(piece.reel)
    release_hold(hold=hold, reason="Looked at", by=given_person(), at=MOMENT)
    assembly = given_certifiable_assembly()
    given_proof_test(assembly=assembly)
    issued(given_assembly_draft(assembly, first_validator=given_representative()))
    assert (Certificate.objects.count(), Tag.objects.count(), Hold.objects.count()) == (3, 4, 1)


def open_the_database() -> None:
    """Take every guard down, as the owner of the database can."""
    # PostgreSQL drops no trigger while a deferred constraint waits to be checked.
    connection.check_constraints()
    take_down(connection, GUARDS)


def entries() -> list[dict]:
    """What the journal says, entry by entry, with the columns that its text does not hold."""
    rows = JournalEntry.objects.order_by("number").values_list("canonical", "at", "by_id")
    return [json.loads(text) | {"_at": at, "_by": by} for text, at, by in rows]


def write_anew(told: list[dict]) -> None:
    """Write the whole journal anew, as somebody would who knows how it is made."""
    JournalEntry.objects.all().delete()
    MerkleNode.objects.all().delete()
    chain, tree, rows, nodes = EMPTY_ROOT, Grown(0, (), ()), [], []
    for number, entry in enumerate(told):
        at, by = entry["_at"], entry["_by"]
        said = {name: entry[name] for name in entry if name not in ("_at", "_by")}
        canonical = canonical_text(said | {"number": number})
        leaf = leaf_hash(canonical.encode())
        chain = chain_hash(chain, leaf)
        tree = grow(size=tree.size, peaks=tree.peaks, leaf=leaf)
        nodes += tree.nodes
        rows.append(
            JournalEntry(
                number=number,
                at=at,
                act=entry["act"],
                subject=entry["subject"],
                by_id=by,
                canonical=canonical,
                leaf_hash=leaf.hex(),
                chain_hash=chain.hex(),
            )
        )
    JournalEntry.objects.bulk_create(rows)
    MerkleNode.objects.bulk_create(
        MerkleNode(level=node.level, index=node.index, hash=node.hash.hex()) for node in nodes
    )
    JournalHead.objects.update(
        size=tree.size, chain_hash=chain.hex(), peaks=[peak.hex() for peak in tree.peaks]
    )
