"""Signs checkpoints of the journal, each of which extends the last one and never replaces it.

Who keeps them, so that a journal written anew would be found out, is for others to do. A
checkpoint is no act: an entry about it would have to be covered by another one.
"""

import logging
from datetime import datetime

from django.conf import settings
from django.db import transaction

from inventory.models import Checkpoint, JournalHead, SigningKey
from inventory.queries.checkpoints import standing_checkpoint
from inventory.queries.journal_proofs import BrokenTree, consistency_proof
from inventory.rules.checkpoint import LogHead, log_origin
from inventory.rules.merkle import verify_consistency
from inventory.rules.refusal import Refusal
from inventory.rules.signed_note import sign_note
from inventory.rules.signing import Purpose, Signer
from inventory.rules.tree_growth import root_of_peaks
from inventory.services.key_files import NoKey
from inventory.services.keyring import signers_for
from inventory.services.open_keys import open_signer

log = logging.getLogger(__name__)


class CannotCheckpoint(Refusal):
    """There is nothing to sign, or the journal is not the one that was signed before."""


def make_checkpoint(*, at: datetime) -> Checkpoint:
    """Sign the journal as it stands; where it has not grown since, return the last checkpoint.

    Within a transaction it covers what was appended there, and goes with it.

    Raises:
        NoKey: there is no key for the log, or it cannot be opened.
        CannotCheckpoint: the journal is empty, or it no longer contains what was signed before.
    """
    with transaction.atomic():
        # The lock of all writers: no other checkpoint and no entry comes in between.
        head = JournalHead.objects.select_for_update().filter(id=1).first()
        last = standing_checkpoint()
        if head is None or head.size == 0:
            message = "The journal is empty: there is nothing to sign yet."
            raise CannotCheckpoint(message)
        root = _root(head)
        if last is not None:
            _check_extends(last, size=head.size, root=root)
            if last.size == head.size:
                return last
        return _sign(LogHead(journal_origin(), head.size, root), last=last, at=at)


def checkpoint_if_able(*, at: datetime) -> Checkpoint | None:
    """Sign the journal where its key is at hand; without one, the next checkpoint covers it.

    An act that could be done without a key is not held up for want of one; a journal that is
    another than the one that was signed holds up everything.

    Raises:
        CannotCheckpoint: the journal is empty, or it no longer contains what was signed before.
    """
    try:
        return make_checkpoint(at=at)
    except NoKey as error:
        log.warning("No checkpoint was signed: %s", error.message)
        return None


def journal_origin() -> str:
    """Name the journal's log, as its checkpoints do."""
    return log_origin(settings.PUBLIC_ORIGIN)


def _root(head: JournalHead) -> bytes:
    try:
        return root_of_peaks(size=head.size, peaks=[bytes.fromhex(peak) for peak in head.peaks])
    except ValueError as error:
        raise CannotCheckpoint(_NOT_THE_SAME) from error


_NOT_THE_SAME = (
    "The journal is not the one that the last checkpoint was signed over, so no other is signed."
    " Change nothing, and run manage.py audit."
)


def _check_extends(last: Checkpoint, *, size: int, root: bytes) -> None:
    """Refuse a journal that does not begin with what was signed."""
    if last.size > size:
        raise CannotCheckpoint(_NOT_THE_SAME)
    try:
        proof = consistency_proof(old_size=last.size, new_size=size)
    except BrokenTree as error:
        raise CannotCheckpoint(_NOT_THE_SAME) from error
    extends = verify_consistency(
        old_size=last.size,
        new_size=size,
        old_root=bytes.fromhex(last.root),
        new_root=root,
        path=proof.path,
    )
    if not extends:
        raise CannotCheckpoint(_NOT_THE_SAME)


def _sign(head: LogHead, *, last: Checkpoint | None, at: datetime) -> Checkpoint:
    signers = _signers(last, at=at)
    return Checkpoint.objects.create(
        size=head.size,
        root=head.root.hex(),
        note=sign_note(head.text, name=head.origin, signers=signers),
        key=SigningKey.objects.get(name=signers[0].name),
        made_at=at,
    )


def _signers(last: Checkpoint | None, *, at: datetime) -> list[Signer]:
    """Choose who signs: the keys in use and, right after a rotation, the one that signed last.

    By signing once more the former key vouches for its successor. A revoked one does not.
    """
    signers = signers_for(Purpose.LOG, at=at)
    names = {signer.name for signer in signers}
    if last is None or last.key.name in names or last.key.revoked_at is not None:
        return signers
    try:
        return [*signers, open_signer(last.key)]
    except NoKey:
        # Its file was taken away with it: the successor signs alone, and the roots still chain.
        return signers
