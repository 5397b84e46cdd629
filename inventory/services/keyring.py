"""Keeps the keys that the house signs with: makes, retires and revokes them, and hands them out.

Public halves stay on record for ever, so that what a former key signed can still be checked.
Where the private halves lie, and how they are opened, is decided in `key_files` and `open_keys`.
"""

from base64 import b64encode
from collections.abc import Mapping
from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import Q, QuerySet

from inventory.models import Person, SigningKey
from inventory.rules.canonical import JsonValue
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.rules.signing import Purpose, Signer
from inventory.services import journal
from inventory.services.authority import require
from inventory.services.guarded import add_row, change_row
from inventory.services.key_files import NoKey
from inventory.services.locks import lock_row, lock_rows
from inventory.services.new_keys import key_in_file, key_of_token
from inventory.services.open_keys import open_signer, token_for

NO_OVERLAP = timedelta(0)


class CannotChangeKey(Refusal):
    """A key cannot be made, retired or revoked as asked."""


def signer_for(purpose: Purpose) -> Signer:
    """Hand out the key that signs now: the newest that is neither retired nor revoked.

    Raises:
        NoKey: there is none, or it cannot be opened; the text says what to do.
    """
    row = _newest_first(purpose).filter(retired_at=None, revoked_at=None).first()
    if row is None:
        message = (
            f"There is no key for {Purpose(purpose).value} that may sign: an administrator runs"
            f" manage.py make_keys --purpose {Purpose(purpose).value}"
            " (with --evaluation only where papers are tried out)."
        )
        raise NoKey(message)
    return open_signer(row)


def signers_for(purpose: Purpose, *, at: datetime) -> list[Signer]:
    """Hand out the key that signs now and those still overlapping with it, newest first.

    A former key that cannot be opened any more is left out.

    Raises:
        NoKey: the key that signs now is missing or cannot be opened.
    """
    current = signer_for(purpose)
    overlapping = _newest_first(purpose).filter(retired_at__gt=at, revoked_at=None)
    signers = [current]
    for row in overlapping:
        try:
            signers.append(open_signer(row))
        except NoKey:
            continue
    return signers


def ensure_keys(*, by: Person, at: datetime) -> list[SigningKey]:
    """Make an evaluation key for each purpose that has none; return those that were made.

    Raises:
        NotAllowed: the person's role does not keep keys.
        NoKey: a key file cannot be written.
    """
    require(by=by, act=Act.MANAGE_KEYS)
    with transaction.atomic():
        served = _in_use(list(Purpose)).values_list("purpose", flat=True)
        missing = [purpose for purpose in Purpose if purpose.value not in set(served)]
        return [make_key(purpose, is_evaluation=True, by=by, at=at) for purpose in missing]


def make_key(
    purpose: Purpose,
    *,
    is_evaluation: bool,
    by: Person,
    at: datetime,
    overlap: timedelta = NO_OVERLAP,
) -> SigningKey:
    """Make the next key of a purpose, which signs from now on; the former ones are retired.

    Where `SIGNERS` names a token for the purpose, its key is put on record and none is made.

    Args:
        is_evaluation: whether it vouches for nobody; a token tells that of itself.
        overlap: how much longer a former key may sign beside the new one.

    Raises:
        NotAllowed: the person's role does not keep keys.
        NoKey: no pass phrase, or the file cannot be written.
        CannotChangeKey: the key is on record already, or the overlap is below nothing.
    """
    require(by=by, act=Act.MANAGE_KEYS)
    if overlap < NO_OVERLAP:
        message = "A former key cannot be retired before it signed: give an overlap of 0 or more."
        raise CannotChangeKey(message, field="overlap")
    with transaction.atomic():
        former = lock_rows(SigningKey, _in_use([purpose]).values_list("pk", flat=True))
        token = token_for(purpose)
        if token is None:
            made = key_in_file(purpose, is_evaluation=is_evaluation, at=at)
        else:
            made = key_of_token(token, purpose=purpose)
        if SigningKey.objects.filter(name=made.name).exists():
            message = f"The key {made.name} is on record already; the token holds no other."
            raise CannotChangeKey(message)
        row = SigningKey(
            purpose=purpose.value,
            name=made.name,
            public_key=b64encode(made.public_key_bytes).decode(),
            certificate_pem=made.certificate_pem,
            is_evaluation=made.is_evaluation,
            added_at=at,
            added_by=by,
        )
        add_row(row, refusal=CannotChangeKey)
        for old in former:
            old.retired_at = at + overlap
            old.save(update_fields=["retired_at"])
        detail: dict[str, JsonValue] = {
            "purpose": row.purpose,
            "public_key": row.public_key,
            "is_evaluation": row.is_evaluation,
            "retired": [old.name for old in former],
        }
        _journal("make", row, detail, rows=[row, *former], by=by, at=at)
    return row


def retire_key(name: str, *, by: Person, at: datetime) -> SigningKey:
    """Let a key sign no more from now on. What it signed stays valid.

    Raises:
        NotAllowed: the person's role does not keep keys.
        CannotChangeKey: there is no such key, or it is retired or revoked already.
    """
    require(by=by, act=Act.MANAGE_KEYS)
    with transaction.atomic():
        row = _locked(name)
        if row.revoked_at or (row.retired_at and row.retired_at <= at):
            message = f"The key {name} signs no more already."
            raise CannotChangeKey(message, field="name")
        row.retired_at = at
        row.save(update_fields=["retired_at"])
        _journal("retire", row, {}, rows=[row], by=by, at=at)
    return row


def revoke_key(name: str, *, reason: str, by: Person, at: datetime) -> SigningKey:
    """Revoke a key that others may hold. Only what entered the journal before now stays valid.

    Raises:
        NotAllowed: the person's role does not keep keys.
        CannotChangeKey: no such key, revoked already, or no reason given.
    """
    require(by=by, act=Act.MANAGE_KEYS)
    if not reason.strip():
        message = "Say why the key is revoked; whoever checks a paper reads it."
        raise CannotChangeKey(message, field="reason")
    with transaction.atomic():
        row = _locked(name)
        if row.revoked_at:
            message = f"The key {name} is revoked already."
            raise CannotChangeKey(message, field="name")
        row.revoked_at, row.revoke_reason = at, reason.strip()
        change_row(row, "revoked_at", "revoke_reason", refusal=CannotChangeKey)
        detail = {"reason_sha256": journal.text_hash(row.revoke_reason)}
        _journal("revoke", row, detail, rows=[row], by=by, at=at)
    return row


def _newest_first(purpose: Purpose) -> QuerySet[SigningKey]:
    return SigningKey.objects.filter(purpose=purpose.value).order_by("-added_at", "-id")


def _in_use(purposes: list[Purpose]) -> QuerySet[SigningKey]:
    return SigningKey.objects.filter(
        Q(purpose__in=[p.value for p in purposes]), retired_at=None, revoked_at=None
    )


def _locked(name: str) -> SigningKey:
    row = SigningKey.objects.filter(name=name).first()
    if row is None:
        message = f"There is no key {name} on record."
        raise CannotChangeKey(message, field="name")
    return lock_row(row)


def _journal(
    deed: str,
    row: SigningKey,
    detail: Mapping[str, JsonValue],
    *,
    rows: list[SigningKey],
    by: Person,
    at: datetime,
) -> None:
    journal.append(
        at=at,
        by=by,
        act=Act.MANAGE_KEYS.value,
        subject=row.name,
        detail={"deed": deed, **detail},
        rows=rows,
    )
