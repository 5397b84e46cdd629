"""Checks proofs and checkpoints of the journal, and finds what it says of a paper.

Only an entry that is proved, under a checkpoint that a key of the journal signed, counts.
"""

import base64
import binascii
from collections.abc import Sequence
from typing import Any, NamedTuple

from certs.documents.verifier.answers import FAILS, HOLDS, UNSAID, Check, NotReadableError
from certs.documents.verifier.handed_in import HandedIn
from certs.documents.verifier.hash_tree import proves_consistency
from certs.documents.verifier.json_form import read_json
from certs.documents.verifier.log_note import EntryProof, LogHead, is_proved_entry, is_signed_head


class ProvedEntry(NamedTuple):
    """An entry of the journal as far as papers go: its number, when, whose, and the hashes."""

    number: int
    at: str
    subject: str
    detail: dict[str, Any]


def check_proofs(handed_in: HandedIn) -> tuple[list[Check], list[ProvedEntry]]:
    """Check every proof; give the entries that are proved and signed for."""
    publics = [key.public for key in handed_in.keys.of("log") if not key.revoked]
    checks, entries = [], []
    for name, proof in handed_in.proofs:
        verdict, meaning = _judged(proof, publics)
        checks.append(Check(name, "entry in the journal", verdict, meaning))
        if verdict == HOLDS:
            entries.append(_entry(proof))
    return checks, entries


def check_heads(handed_in: HandedIn) -> list[Check]:
    """Check the signatures of checkpoints, and that all heads are of one growing journal."""
    publics = [key.public for key in handed_in.keys.of("log") if not key.revoked]
    checks = []
    for name, head in handed_in.heads:
        verdict, meaning = _signed(head, publics)
        checks.append(Check(name, "checkpoint of the journal", verdict, meaning))
    heads = [(name, head) for name, head in handed_in.heads]
    heads += [(name, proof.head) for name, proof in handed_in.proofs]
    return [*checks, *_grown(heads, handed_in.consistencies)]


def _judged(proof: EntryProof, publics: Sequence[bytes]) -> tuple[str, str]:
    if not is_proved_entry(proof):
        return FAILS, "The proof does not lead from the entry to the root of its checkpoint."
    verdict, meaning = _signed(proof.head, publics)
    if verdict != HOLDS:
        return verdict, meaning
    try:
        entry = _entry(proof)
    except NotReadableError as problem:
        return FAILS, f"The entry cannot be read: {problem}."
    if entry.number != proof.place:
        return FAILS, "The entry stands at another place than the number it bears."
    return HOLDS, (
        f"Entry {entry.number} about {entry.subject}, of {entry.at}, is one of the "
        f"{proof.head.size} entries of the journal {proof.head.origin}."
    )


def _signed(head: LogHead, publics: Sequence[bytes]) -> tuple[str, str]:
    if not publics:
        return UNSAID, "No key of the journal was handed in, so nobody vouches for its checkpoint."
    if not is_signed_head(head, publics):
        return FAILS, "No key of the journal that is in force signed this checkpoint."
    root = base64.b64encode(head.root).decode()
    return HOLDS, f"Signed by the journal {head.origin}: {head.size} entries, root {root}."


def _entry(proof: EntryProof) -> ProvedEntry:
    read = read_json(proof.entry)
    try:
        number, at, subject, detail = (read[n] for n in ("number", "at", "subject", "detail"))
    except (KeyError, TypeError) as problem:
        raise NotReadableError("it is no entry of the journal") from problem
    if not isinstance(number, int) or not isinstance(detail, dict):
        raise NotReadableError("it is no entry of the journal")
    return ProvedEntry(number, str(at), str(subject), detail)


def _grown(
    heads: Sequence[tuple[str, LogHead]], consistencies: Sequence[dict[str, Any]]
) -> list[Check]:
    """Hold each head against the next larger one of the same journal."""
    checks = []
    unlike = {(head.origin, head.size, head.root): name for name, head in reversed(heads)}
    ordered = sorted((*key, name) for key, name in unlike.items())
    for at in range(1, len(ordered)):
        (origin, old_size, old_root, old_name), new = ordered[at - 1], ordered[at]
        if new[0] == origin:
            old = (old_size, old_root)
            verdict, meaning = _grew(old, (new[1], new[2]), consistencies)
            checks.append(Check(f"{old_name}, {new[3]}", "one journal", verdict, meaning))
    return checks


def _grew(
    old: tuple[int, bytes], new: tuple[int, bytes], proofs: Sequence[dict[str, Any]]
) -> tuple[str, str]:
    (old_size, old_root), (new_size, new_root) = old, new
    if old_size == new_size:
        return FAILS, (
            f"Two checkpoints of {old_size} entries have different roots: the journal was shown "
            "in two versions."
        )
    fitting = [p for p in proofs if (p.get("from"), p.get("to")) == (old_size, new_size)]
    if not fitting:
        return UNSAID, (
            f"No proof was handed in that the journal of {old_size} entries is the beginning "
            f"of that of {new_size}."
        )
    is_proved = any(
        proves_consistency(
            old_size=old_size, new_size=new_size, old_root=old_root, new_root=new_root, path=path
        )
        for path in map(_path, fitting)
    )
    if is_proved:
        return HOLDS, f"The first {old_size} of {new_size} entries are the same."
    return FAILS, f"The journal of {old_size} entries is not the beginning of that of {new_size}."


def _path(proof: dict[str, Any]) -> list[bytes]:
    """Read a path, in base64 or in hexadecimal; what cannot be read proves nothing."""
    read = []
    for node in map(str, proof["path"]):
        try:
            is_hex = len(node) == len("00" * 32)
            read.append(bytes.fromhex(node) if is_hex else base64.b64decode(node, validate=True))
        except (binascii.Error, ValueError):
            read.append(b"")
    return read
