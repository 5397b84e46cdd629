"""Tells beforehand what keeps the keys on record from signing, as a lost file does.

Which key signs is decided by the keyring. A token is not asked: it is opened when it signs.
"""

from collections.abc import Iterable

from django.conf import settings

from inventory.queries.signing_keys import keys_in_use
from inventory.rules.signing import Purpose
from inventory.services.key_files import NoKey
from inventory.services.open_keys import open_signer


def key_trouble(purposes: Iterable[Purpose]) -> str:
    """Say which key files of these purposes do not open, and what to do; empty: all do.

    A purpose that has no key on record is not spoken of: the record itself tells that.
    """
    held = keys_in_use()
    rows = [held[one.value] for one in purposes if one.value in held]
    said = []
    for row in rows:
        if not settings.SIGNERS.get(row.purpose):
            try:
                open_signer(row)
            except NoKey as trouble:
                said.append(trouble.message)
    return " ".join(said)
