"""The proof that an entry is in the journal, as a file that anyone can check without us.

The entry goes along as extra data: the hashes in it bind the paper or the thing it tells of.
"""

from inventory.models import JournalEntry
from inventory.queries.checkpoints import checkpoint_over
from inventory.queries.journal_proofs import BrokenTree, inclusion_proof
from inventory.rules.tlog_proof import LogProof


def proof_of_entry(entry: JournalEntry) -> LogProof | None:
    """Prove an entry under the standing checkpoint; None while no checkpoint covers it.

    Raises:
        BrokenTree: the stored tree does not lead to the root that was signed.
    """
    standing = checkpoint_over(entry.number)
    if standing is None:
        return None
    proof = inclusion_proof(number=entry.number, size=standing.size)
    if proof.root.hex() != standing.root:
        message = (
            f"The journal no longer leads to the root that was signed at {standing.size} entries."
            " Run manage.py audit."
        )
        raise BrokenTree(message)
    return LogProof(entry.number, proof.path, standing.note, entry.canonical.encode())
