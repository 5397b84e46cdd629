"""The whole audit, part by part, in one reading of the record as it stands at one moment.

It trusts nothing but the hash, the entries it walks through, and a checkpoint kept outside if one
is given. It changes nothing, and needs no more memory for a long journal than for a short one.
"""

from collections.abc import Callable, Generator, Sequence
from itertools import chain

from certs.queries.audit.certificates import certificates_as_issued
from certs.queries.audit.checkpoints import Checkpoints, KeptNote
from certs.queries.audit.entries import actors
from certs.queries.audit.files import files_against_hashes
from certs.queries.audit.guards import guards_standing
from certs.queries.audit.journal_walk import JournalWalk
from certs.queries.audit.keys import credential_keys, keys_whole
from certs.queries.audit.ledger import metres_add_up
from certs.queries.audit.nodes import Nodes
from certs.queries.audit.one_moment import one_moment
from certs.queries.audit.rows import rows_against_entries
from certs.queries.audit.scratch import Scratch
from certs.queries.audit.series import series_without_gap
from certs.rules.disagreement import Disagreement


def audit(
    *, kept: Sequence[KeptNote] = (), tell: Callable[[str], None] = lambda _: None
) -> Generator[Disagreement, None, int]:
    """Compare the record with its journal, its files and itself; yield all that does not agree.

    Returns how many journal entries it read.

    Args:
        kept: checkpoints kept outside of this record.
        tell: is told how far the audit has come.
    """
    with Scratch() as scratch, one_moment():
        people = actors()
        walk = JournalWalk(scratch, people, Checkpoints(kept), Nodes(), tell)
        yield from chain(
            guards_standing(),
            walk.walk(),
            rows_against_entries(scratch, salts=people.salts, tell=tell),
            series_without_gap(scratch),
            metres_add_up(),
            keys_whole(),
            certificates_as_issued(scratch, keys=credential_keys(), tell=tell),
            files_against_hashes(tell),
        )
        return walk.tree.size
