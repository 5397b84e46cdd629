"""Gives the journal's part of a bundle: entries, checkpoints, proofs, and the public keys."""

import json
from base64 import b64encode
from collections.abc import Iterator
from functools import partial
from typing import Any

from django.conf import settings

from certs.documents.bundle_archive import BundleFile
from certs.queries.bundle_shapes import Bundled
from certs.queries.public_keys import did_document, jwk_set
from inventory.models import Checkpoint, JournalEntry, SigningKey
from inventory.queries.journal_proofs import BrokenTree, consistency_proof, inclusion_proof
from inventory.rules.tlog_proof import LogProof

ENTRIES = "journal/entries.txt"
CHECKPOINT = "journal/checkpoint.txt"


def journal_files(bundle: Bundled) -> Iterator[BundleFile]:
    """Yield the entries about the story, the checkpoint, and a proof for each entry in it.

    Raises:
        BrokenTree: the journal lacks a stored hash and can prove nothing.
    """
    lines = "".join(f"{entry.canonical}\n" for entry in bundle.entries)
    yield BundleFile.of_text(
        ENTRIES, "Entries of the journal about it, one a line, each as canonical JSON", lines
    )
    if bundle.checkpoint is None:
        return
    words = f"The journal’s last checkpoint: {bundle.checkpoint.size} entries, signed"
    yield BundleFile.of_text(CHECKPOINT, words, bundle.checkpoint.note)
    for entry in bundle.entries:
        if entry.number < bundle.checkpoint.size:
            path = f"journal/proofs/{entry.number:08d}.tlog-proof"
            words = f"Proof that entry {entry.number} ({_deed(entry)}) is in the journal"
            yield BundleFile(path, words, partial(_proof_of, entry, bundle.checkpoint))
    yield from _former(bundle.checkpoint, bundle.former)


def unproved(bundle: Bundled) -> list[int]:
    """Return the numbers of entries that no checkpoint covers yet."""
    size = bundle.checkpoint.size if bundle.checkpoint else 0
    return [entry.number for entry in bundle.entries if entry.number >= size]


def issue_proof(bundle: Bundled, *, number: str) -> bytes | None:
    """Return the proof of a certificate's issue; None where no checkpoint covers it."""
    issued = (e for e in bundle.entries if e.subject == number and e.act == "issue_certificate")
    entry = next(issued, None)
    if entry is None or bundle.checkpoint is None or entry.number >= bundle.checkpoint.size:
        return None
    return _proof_of(entry, bundle.checkpoint)


def key_files() -> Iterator[BundleFile]:
    """Yield the public keys of the house, those of former days too."""
    yield BundleFile.of_text(
        "keys/jwks.json", "Every public key of the house (RFC 7517)", _json(jwk_set())
    )
    yield BundleFile.of_text(
        "keys/did.json",
        "Its keys for data, as a DID document (W3C)",
        _json(did_document(settings.PUBLIC_ORIGIN)),
    )
    for key in SigningKey.objects.exclude(certificate_pem="").order_by("id"):
        path, words = f"keys/{key.name}.pem", f"The certificate of {key.name}, and who vouches"
        yield BundleFile.of_text(path, words, key.certificate_pem)


def _former(standing: Checkpoint, former: Checkpoint | None) -> Iterator[BundleFile]:
    """Yield the checkpoint of an earlier day, and that the journal only grew since."""
    if former is None or former.size == standing.size:
        return
    words = f"The last checkpoint of that day: {former.size} entries, signed"
    yield BundleFile.of_text("journal/checkpoint-of-that-day.txt", words, former.note)
    proof = consistency_proof(old_size=former.size, new_size=standing.size)
    told = {
        "from": former.size,
        "to": standing.size,
        "path": [b64encode(node).decode() for node in proof.path],
    }
    words = f"Proof that the journal only grew from {former.size} to {standing.size} entries"
    yield BundleFile.of_text("journal/consistency.json", words, _json(told))


def _proof_of(entry: JournalEntry, checkpoint: Checkpoint) -> bytes:
    """Give the content of a `.tlog-proof` file, under one checkpoint for the whole bundle."""
    found = inclusion_proof(number=entry.number, size=checkpoint.size)
    if found.root.hex() != checkpoint.root:
        message = "The journal no longer leads to the root that was signed. Run manage.py audit."
        raise BrokenTree(message)
    extra = entry.canonical.encode()
    return LogProof(entry.number, found.path, checkpoint.note, extra).text.encode()


def _deed(entry: JournalEntry) -> str:
    return f"{entry.act.replace('_', ' ')} {entry.subject}"


def _json(value: Any) -> str:  # noqa: ANN401 -- any JSON
    return json.dumps(value, ensure_ascii=False, indent=2) + "\n"
