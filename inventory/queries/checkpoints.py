"""The checkpoints of the journal, and the public keys that may stand under them.

When one is made, and that it only ever extends the last, is decided by the service.
"""

from base64 import b64decode

from django.db.models import Q

from inventory.models import Checkpoint, SigningKey
from inventory.rules.checkpoint import LogHead, read_head
from inventory.rules.signed_note import NoteKey, read_note


def standing_checkpoint() -> Checkpoint | None:
    """Return the largest checkpoint there is."""
    return Checkpoint.objects.select_related("key").order_by("-size").first()


def standing_head() -> LogHead | None:
    """Return what the largest checkpoint says."""
    standing = standing_checkpoint()
    return read_head(read_note(standing.note).text) if standing else None


def checkpoint_over(number: int) -> Checkpoint | None:
    """Return the standing checkpoint if it covers entry `number`, else None."""
    standing = standing_checkpoint()
    return standing if standing and standing.size > number else None


def log_keys(origin: str) -> tuple[NoteKey, ...]:
    """Return every key that ever was to sign checkpoints under this origin, the newest first.

    Revoked ones are among them: what was logged before the revocation stays valid, and whoever
    checks a note against its date must be able to read it.
    """
    keys = SigningKey.objects.filter(purpose=SigningKey.Purpose.LOG).order_by("-added_at", "-id")
    return tuple(NoteKey(origin, b64decode(key.public_key)) for key in keys)


def trusted_log_keys(origin: str) -> tuple[NoteKey, ...]:
    """Return those whose signature vouches for something today.

    Not one that was revoked: it may be a thief's, of any date. Nor, once the house has a key of its
    own, one for evaluation: it signs the first checkpoint after the change beside the new key.
    """
    keys = SigningKey.objects.filter(purpose=SigningKey.Purpose.LOG)
    doubtful = Q(revoked_at__isnull=False)
    if keys.filter(is_evaluation=False).exists():
        doubtful |= Q(is_evaluation=True)
    publics = {b64decode(key.public_key) for key in keys.filter(doubtful)}
    return tuple(key for key in log_keys(origin) if key.public_key not in publics)
