"""Checks proofs and checkpoints of the journal, and finds what it says of a paper.

Only an entry that is proved, under a checkpoint that a key of the journal signed, counts.
"""

import base64
from collections.abc import Sequence
from typing import Any, NamedTuple

from certs.documents.verifier.answers import FAILS, HOLDS, UNSAID, Check, NotReadableError
from certs.documents.verifier.exported_log import ExportedLog, fault_of_export
from certs.documents.verifier.handed_in import HandedIn
from certs.documents.verifier.hash_tree import leaf_of, proves_inclusion
from certs.documents.verifier.journal_answers import Inclusion
from certs.documents.verifier.json_form import read_json
from certs.documents.verifier.log_note import EntryProof, LogHead, is_proved_entry, is_signed_head
from certs.documents.verifier.one_journal import check_one_journal

_NAMED = "entry in the journal"


class ProvedEntry(NamedTuple):
    """An entry of the journal as far as papers go: its number, when, which act, whose, hashes."""

    number: int
    at: str
    act: str
    subject: str
    detail: dict[str, Any]


def check_proofs(handed_in: HandedIn) -> tuple[list[Check], list[ProvedEntry]]:
    """Check every proof; give the entries that are proved and signed for."""
    publics = log_publics(handed_in)
    checks, entries = [], []
    for name, proof in handed_in.proofs:
        verdict, meaning = _judged(proof, publics)
        checks.append(Check(name, _NAMED, verdict, meaning))
        if verdict == HOLDS:
            entries.append(_entry(proof.entry))
    for name, inclusion in handed_in.inclusions:
        verdict, meaning, entry = _judged_answer(inclusion, handed_in, publics)
        checks.append(Check(name, _NAMED, verdict, meaning))
        entries += [entry] if entry else []
    return checks + _unproved(handed_in), entries


def check_exports(handed_in: HandedIn) -> tuple[list[Check], list[ProvedEntry]]:
    """Check every exported journal; give those entries about papers whose journal is signed."""
    publics = log_publics(handed_in)
    checks, entries = [], []
    for log in handed_in.exports:
        verdict, meaning = _judged_export(log, publics)
        checks.append(Check(log.name, "whole journal", verdict, meaning))
        if verdict == HOLDS:
            entries += [_entry(text) for text in log.entries if b"_sha256" in text]
    return checks, entries


def check_heads(handed_in: HandedIn) -> list[Check]:
    """Check the signatures of checkpoints, and that all heads are of one growing journal."""
    publics = log_publics(handed_in)
    checks = []
    for name, head in handed_in.heads:
        verdict, meaning = _signed(head, publics)
        checks.append(Check(name, "checkpoint of the journal", verdict, meaning))
    return [*checks, *check_one_journal(_all_heads(handed_in), handed_in.growths)]


def log_publics(handed_in: HandedIn) -> list[bytes]:
    """Give the keys of the journal whose signature vouches for something."""
    return handed_in.keys.log_keys_that_vouch()


def _all_heads(handed_in: HandedIn) -> list[tuple[str, LogHead]]:
    return [*handed_in.heads, *((name, proof.head) for name, proof in handed_in.proofs)]


def _judged(proof: EntryProof, publics: Sequence[bytes]) -> tuple[str, str]:
    if not is_proved_entry(proof):
        return FAILS, "The proof does not lead from the entry to the root of its checkpoint."
    verdict, meaning = _signed(proof.head, publics)
    if verdict != HOLDS:
        return verdict, meaning
    return _told_entry(proof.entry, proof.place, proof.head)


def _judged_answer(
    inclusion: Inclusion, handed_in: HandedIn, publics: Sequence[bytes]
) -> tuple[str, str, ProvedEntry | None]:
    """Judge a proof that names a root, against the checkpoints, and find the entry's text."""
    if not proves_inclusion(
        index=inclusion.number,
        size=inclusion.size,
        leaf=inclusion.leaf,
        path=inclusion.path,
        root=inclusion.root,
    ):
        return FAILS, "The proof does not lead from the entry to the root that it names.", None
    heads = [head for _, head in _all_heads(handed_in) if head.size == inclusion.size]
    if not heads:
        text = f"No checkpoint of {inclusion.size} entries was handed in to vouch for its root."
        return UNSAID, text, None
    head = next((head for head in heads if head.root == inclusion.root), None)
    if head is None:
        text = f"The checkpoint of {inclusion.size} entries has another root."
        return FAILS, text, None
    verdict, meaning = _signed(head, publics)
    if verdict != HOLDS:
        return verdict, meaning, None
    entries = (entry for _, entry in handed_in.entries if leaf_of(entry) == inclusion.leaf)
    entry = next(entries, None)
    if entry is None:
        return HOLDS, (
            f"An entry is number {inclusion.number} of the {head.size} of the journal "
            f"{head.origin}; of it only the hash {inclusion.leaf.hex()} was handed in."
        ), None  # fmt: skip
    verdict, meaning = _told_entry(entry, inclusion.number, head)
    return verdict, meaning, _entry(entry) if verdict == HOLDS else None


def _unproved(handed_in: HandedIn) -> list[Check]:
    """Name the texts of entries for which there is no proof."""
    proved = {inclusion.leaf for _, inclusion in handed_in.inclusions}
    proved |= {leaf_of(proof.entry) for _, proof in handed_in.proofs}
    text = "No proof was handed in that this entry stands in the journal."
    return [
        Check(name, _NAMED, UNSAID, text)
        for name, entry in handed_in.entries
        if leaf_of(entry) not in proved
    ]


def _judged_export(log: ExportedLog, publics: Sequence[bytes]) -> tuple[str, str]:
    fault = fault_of_export(log)
    if fault:
        return FAILS, fault
    verdict, meaning = _signed(log.head, publics)
    if verdict != HOLDS:
        return verdict, f"The entries lead to the root of the checkpoint. {meaning}"
    for place, text in enumerate(log.entries):
        verdict, meaning = _told_entry(text, place, log.head)
        if verdict != HOLDS:
            return verdict, f"Entry {place}: {meaning}"
    return HOLDS, (
        f"Its {log.head.size} entries, hashed anew, lead to the root that the journal "
        f"{log.head.origin} signed, and every tile of hashes agrees with them."
    )


def _told_entry(text: bytes, place: int, head: LogHead) -> tuple[str, str]:
    """Say what an entry is about that is proved to stand at a place."""
    try:
        entry = _entry(text)
    except NotReadableError as problem:
        return FAILS, f"The entry cannot be read: {problem}."
    if entry.number != place:
        return FAILS, "The entry stands at another place than the number it bears."
    return HOLDS, (
        f"Entry {entry.number} about {entry.subject}, of {entry.at}, is one of the "
        f"{head.size} entries of the journal {head.origin}."
    )


def _signed(head: LogHead, publics: Sequence[bytes]) -> tuple[str, str]:
    if not publics:
        return UNSAID, "No key of the journal was handed in, so nobody vouches for its checkpoint."
    if not is_signed_head(head, publics):
        return FAILS, "No key of the journal that is in force signed this checkpoint."
    root = base64.b64encode(head.root).decode()
    return HOLDS, f"Signed by the journal {head.origin}: {head.size} entries, root {root}."


def _entry(text: bytes) -> ProvedEntry:
    read = read_json(text)
    try:
        number, at, subject, detail = (read[n] for n in ("number", "at", "subject", "detail"))
        act = read["act"]
    except (KeyError, TypeError) as problem:
        raise NotReadableError("it is no entry of the journal") from problem
    if not isinstance(number, int) or not isinstance(detail, dict):
        raise NotReadableError("it is no entry of the journal")
    return ProvedEntry(number, str(at), str(act), str(subject), detail)
