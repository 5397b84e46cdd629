"""Reads the public keys on record: which sign now, and what is known of any that ever was."""

from collections.abc import Mapping
from types import MappingProxyType

from inventory.models import SigningKey


def keys_in_use(database: str | None = None) -> Mapping[str, SigningKey]:
    """Return by its purpose each key that signs now: the newest not retired, not revoked.

    `database` names one of the settings, where it is not the usual one.
    """
    rows = (
        SigningKey.objects.using(database)
        .filter(retired_at=None, revoked_at=None)
        .order_by("added_at", "id")
    )
    return MappingProxyType({row.purpose: row for row in rows})


def paper_chains() -> Mapping[str, str]:
    """Return by its name the chain (PEM) of every paper key that ever was."""
    rows = SigningKey.objects.filter(purpose=SigningKey.Purpose.PAPER).order_by("id")
    return MappingProxyType(dict(rows.values_list("name", "certificate_pem")))


def keys_named(names: list[str]) -> list[SigningKey]:
    """Return the keys of these names, in the order they were added."""
    return list(SigningKey.objects.filter(name__in=names).order_by("added_at", "id"))
