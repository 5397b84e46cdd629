"""Writes the journal: one entry for every act, in the act's own transaction.

Entries are chained by hash from the first one on, and are the leaves of a hash tree that grows
with them, so that one entry can be proved without the others. Personal data never goes in: a
person is named by a salted hash, a firm by its code, and a text that somebody wrote is bound by
its hash.
"""

import hashlib
from collections.abc import Iterable, Mapping
from datetime import UTC, datetime

from django.db import models, transaction

from inventory.models import JournalEntry, JournalHead, MerkleNode, Person
from inventory.queries.row_binding import bindings
from inventory.rules.canonical import JsonValue, canonical_text, sha256_hex
from inventory.rules.merkle import EMPTY_ROOT, chain_hash, leaf_hash
from inventory.rules.refusal import Refusal
from inventory.rules.tiles import MOST_ENTRY_BYTES
from inventory.rules.tree_growth import grow
from inventory.services.locks import require_transaction

EMPTY_CHAIN = EMPTY_ROOT.hex()


class EntryTooLong(Refusal):
    """An act writes more than one entry can tell."""


def append(
    *,
    at: datetime,
    by: Person,
    act: str,
    subject: str,
    detail: Mapping[str, JsonValue],
    rows: Iterable[models.Model] = (),
    gone: Iterable[str] = (),
) -> JournalEntry:
    """Append one entry. Must run inside the transaction of the act; call it last.

    The head row is the one lock that all writers share, so it is taken as late as possible.

    Args:
        subject: code of the thing acted on, such as "R-00012".
        detail: what was done, as JSON without floats; measured values as text.
        rows: every row that the act wrote or changed, as it is now; the entry binds each.
        gone: the `row_key` of each row that the act threw away.

    Raises:
        TransactionManagementError: outside a transaction.
        EntryTooLong: an act on so much that its entry passes 65,535 bytes.
    """
    bound = bindings(rows=rows, gone=gone, salt=by.journal_salt)
    head = _locked_head()
    canonical = canonical_text(
        {
            "act": act,
            "at": at.astimezone(UTC).isoformat(timespec="milliseconds"),
            "by": person_hash(by),
            "detail": {**detail, **bound.as_detail()},
            "number": head.size,
            "subject": subject,
        }
    )
    _check_length(canonical)
    leaf = leaf_hash(canonical.encode())
    chained = chain_hash(bytes.fromhex(head.chain_hash), leaf).hex()
    entry = JournalEntry.objects.create(
        number=head.size,
        at=at,
        act=act,
        subject=subject,
        by=by,
        canonical=canonical,
        leaf_hash=leaf.hex(),
        chain_hash=chained,
    )
    _grow(head, leaf)
    head.chain_hash = chained
    head.save(update_fields=["size", "chain_hash", "peaks"])
    return entry


def _check_length(canonical: str) -> None:
    """Refuse what no tile of the published log could hold."""
    if len(canonical.encode()) > MOST_ENTRY_BYTES:
        message = "This is too much for one entry of the journal: do it in two parts."
        raise EntryTooLong(message)


def person_hash(person: Person) -> str:
    """How the journal names a person: SHA-256 of his salt and user name, hexadecimal."""
    return hashlib.sha256(f"{person.journal_salt}:{person.username}".encode()).hexdigest()


def text_hash(text: str) -> str:
    """How the journal binds a text that a person wrote, which may name someone: its SHA-256."""
    return sha256_hex(text.encode())


def _grow(head: JournalHead, leaf: bytes) -> None:
    """Grow the tree by a leaf: its peaks on the head, and the subtrees it completes as nodes."""
    peaks = [bytes.fromhex(peak) for peak in head.peaks]
    grown = grow(size=head.size, peaks=peaks, leaf=leaf)
    head.size, head.peaks = grown.size, [peak.hex() for peak in grown.peaks]
    if grown.nodes:
        MerkleNode.objects.bulk_create(
            MerkleNode(level=node.level, index=node.index, hash=node.hash.hex())
            for node in grown.nodes
        )


def _locked_head() -> JournalHead:
    require_transaction()
    heads = JournalHead.objects.select_for_update()
    head = heads.filter(id=1).first()
    if head is None:
        # Two first writers may race here: one inserts, the other finds it after the lock.
        with transaction.atomic():
            JournalHead.objects.get_or_create(id=1, defaults={"chain_hash": EMPTY_CHAIN})
        head = heads.get(id=1)
    return head
