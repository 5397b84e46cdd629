"""Checks that the journal names a paper, and that nobody could have put that in afterwards."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from certs.models import Certificate
from certs.queries.issue_entry import issue_entry
from certs.rules.paper_check import PaperCheck, Topic, cannot_say, fails, holds
from inventory.documents.quantities import moment
from inventory.queries.checkpoints import log_keys, trusted_log_keys
from inventory.queries.journal_proofs import BrokenTree
from inventory.queries.log_proofs import proof_of_entry
from inventory.rules.checkpoint import LogHead, log_origin, short_root
from inventory.rules.signed_note import NotANote, NoteKey, NotSigned
from inventory.rules.tlog_proof import LogProof, NotProved, check_proof

_BROKEN = (
    "The journal on record does not lead to the root that was signed. This is a fault on our side: "
    "do not rely on the paper, and tell us."
)
_NOBODY_VOUCHES = (
    "The key that signed the journal’s last checkpoint was revoked, or was for evaluation only, "
    "and no other has signed since: nobody vouches for the journal today. We have to sign it anew: "
    "ask us."
)


@dataclass(frozen=True, slots=True)
class Journalled:
    """What the journal says of a paper; `issued_at` is None unless it names it and proves that."""

    check: PaperCheck
    issued_at: datetime | None = None


def check_journal(certificate: Certificate | None, *, origin: str) -> Journalled:
    """Check that the entry of a paper's issue names its file and data, and stands in the journal.

    Args:
        certificate: whose paper it is; None where that is not known.
        origin: the address that the house publishes its journal under.
    """
    entry = issue_entry(certificate) if certificate else None
    if certificate is None or entry is None:
        return Journalled(fails(Topic.JOURNAL, "The journal names no such paper."))
    log = log_origin(origin)
    try:
        proof = proof_of_entry(entry)
        head = _checked(proof, entry.canonical, keys=log_keys(log)) if proof else None
    except (BrokenTree, NotANote, NotSigned, NotProved):
        return Journalled(fails(Topic.JOURNAL, _BROKEN))
    if head is None:
        text = f"Entry {entry.number} names it, but no checkpoint has been signed since."
        return Journalled(cannot_say(Topic.JOURNAL, text))
    named = _named(certificate, json.loads(entry.canonical), head)
    if named.issued_at and proof is not None and not _is_vouched_for(proof, entry.canonical, log):
        return Journalled(cannot_say(Topic.JOURNAL, _NOBODY_VOUCHES), named.issued_at)
    return named


def _checked(proof: LogProof, canonical: str, *, keys: Sequence[NoteKey]) -> LogHead:
    return check_proof(proof, entry=canonical.encode(), keys=keys)


def _is_vouched_for(proof: LogProof, canonical: str, log: str) -> bool:
    try:
        _checked(proof, canonical, keys=trusted_log_keys(log))
    except NotSigned:
        return False
    return True


def _named(certificate: Certificate, entry: dict[str, object], head: LogHead) -> Journalled:
    """See that the proved entry names these very hashes."""
    detail = entry["detail"]
    wanted = {
        "pdf_sha256": certificate.pdf_sha256,
        "snapshot_sha256": certificate.snapshot_sha256,
        "credential_sha256": certificate.credential_sha256,
    }
    if not isinstance(detail, dict) or any(detail.get(n) != told for n, told in wanted.items()):
        text = "The journal names another file or other data under this number. Tell us."
        return Journalled(fails(Topic.JOURNAL, text))
    issued_at = datetime.fromisoformat(str(entry["at"]))
    meaning = (
        f"Entry {entry['number']}, of {moment(issued_at)}, names this file and its data. It is one "
        f"of the {head.size} entries under the checkpoint with root {short_root(head.root)}."
    )
    return Journalled(holds(Topic.JOURNAL, meaning), issued_at)
