"""The second step of signing in: setting it up, passing it, taking it away.

A code is accepted once, for thirty seconds on either side of its own; after a wrong one the next
try waits 1, 2, 4 … seconds, counted per person in the database. Recovery codes are kept as hashes
and used up one by one.
"""

import math
import secrets
from base64 import b32encode
from dataclasses import dataclass
from datetime import datetime

from django.conf import settings
from django.db import transaction
from django_otp.models import Device
from django_otp.plugins.otp_static.models import StaticDevice, StaticToken
from django_otp.plugins.otp_totp.models import TOTPDevice

from inventory.models import Person
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act, Role
from inventory.rules.second_step import (
    NEEDED_BY,
    RECOVERY_BYTES,
    RECOVERY_CODES,
    is_recovery_code,
    kept_form,
    recovery_code,
)
from inventory.services import journal
from inventory.services.authority import require
from inventory.services.locks import lock_rows
from inventory.services.sessions import end_sessions


class WrongCode(Refusal):
    """The code is not the one, was used before, or came too soon after a wrong one."""


class CannotSetUp(Refusal):
    """The second step cannot be set up now."""


@dataclass(frozen=True, slots=True)
class Enrolment:
    """What an authenticator app must be told: the secret, and the address that holds it."""

    secret: str
    address: str


def is_needed_by(role: Role) -> bool:
    """Tell whether people of this role must pass the second step, by the setting and the rules."""
    return bool(settings.MFA_REQUIRED) and role in NEEDED_BY


def is_asked_of(person: Person) -> bool:
    """Tell whether this person must pass it: by role, or for having set it up."""
    return is_needed_by(Role(person.role)) or is_set_up(person)


def is_set_up(person: Person, *, by: datetime | None = None) -> bool:
    """Tell whether this person has an app that was confirmed; `by`: one known at that moment."""
    devices = TOTPDevice.objects.filter(user=person, confirmed=True)
    return bool((devices if by is None else devices.filter(created_at__lte=by)).exists())


def recovery_codes_left(person: Person) -> int:
    """How many recovery codes this person has not used."""
    devices = StaticDevice.objects.filter(user=person, confirmed=True)
    return sum(device.token_set.count() for device in devices)


def enrol(person: Person) -> Enrolment:
    """Give the secret of an app that is to be confirmed; the same one until it is.

    Raises:
        CannotSetUp: one is set up already.
    """
    with transaction.atomic():
        _lock(person)
        device = TOTPDevice.objects.filter(user=person).order_by("-confirmed", "pk").first()
        if device is None:
            device = TOTPDevice.objects.create(user=person, name="app", confirmed=False)
        if device.confirmed:
            message = "The second step is set up already; have it taken away first."
            raise CannotSetUp(message)
    return Enrolment(b32encode(device.bin_key).decode(), device.config_url)


def confirm(person: Person, *, code: str, at: datetime) -> tuple[TOTPDevice, tuple[str, ...]]:
    """Put the second step into force with a first code of the app; return the recovery codes.

    Raises:
        WrongCode: the app shows another code.
        CannotSetUp: nothing waits to be confirmed.
    """
    with transaction.atomic():
        _lock(person)
        device = TOTPDevice.objects.filter(user=person, confirmed=False).first()
        if device is None:
            message = "There is nothing to confirm; open the page anew."
            raise CannotSetUp(message)
        problem = _problem(device, code, at=at)
        if problem is None:
            device.confirmed = True
            device.save(update_fields=["confirmed"])
            codes = _new_codes(person)
            _journal(person, by=person, at=at, deed="set_up_second_step")
    if problem is not None:  # told after the count of wrong tries is kept
        raise problem
    return device, codes


def renew_codes(person: Person, *, at: datetime) -> tuple[str, ...]:
    """Give ten new recovery codes; the former ones count no more.

    Raises:
        CannotSetUp: the second step is not set up.
    """
    with transaction.atomic():
        _lock(person)
        if not is_set_up(person):
            message = "Set up the second step first."
            raise CannotSetUp(message)
        codes = _new_codes(person)
        _journal(person, by=person, at=at, deed="renew_recovery_codes")
    return codes


def verify(person: Person, *, code: str, at: datetime) -> Device:
    """Pass the second step with six digits of the app, or with a recovery code.

    Raises:
        WrongCode: with the sentence that the person reads.
    """
    with transaction.atomic():
        _lock(person)
        kind = StaticDevice if is_recovery_code(code) else TOTPDevice
        device = kind.objects.filter(user=person, confirmed=True).order_by("pk").first()
        typed = kept_form(code) if kind is StaticDevice else code
        problem = _wrong() if device is None else _problem(device, typed, at=at)
    if problem is not None:
        raise problem
    return device


def reset(*, person: Person, by: Person, at: datetime) -> None:
    """Take the second step away from a person who lost app and codes; his sessions end.

    Raises:
        NotAllowed: only the administrator may.
        CannotSetUp: there is nothing to take away.
    """
    require(by=by, act=Act.MANAGE_PEOPLE)
    _reset(person, by=by, at=at, deed="reset_second_step")


def reset_at_server(*, person: Person, at: datetime) -> None:
    """Take it away by a command on the server: for an administrator who is locked out himself."""
    _reset(person, by=person, at=at, deed="reset_second_step_at_server")


def _reset(person: Person, *, by: Person, at: datetime, deed: str) -> None:
    with transaction.atomic():
        _lock(person)
        gone, _ = TOTPDevice.objects.filter(user=person).delete()
        StaticDevice.objects.filter(user=person).delete()
        if not gone:
            message = f"{person.get_username()} has no second step that could be taken away."
            raise CannotSetUp(message)
        end_sessions(person, at=at)
        _journal(person, by=by, at=at, deed=deed)


def _lock(person: Person) -> None:
    lock_rows(Person, [person.pk])


def _new_codes(person: Person) -> tuple[str, ...]:
    codes = tuple(recovery_code(secrets.token_bytes(RECOVERY_BYTES)) for _ in range(RECOVERY_CODES))
    StaticDevice.objects.filter(user=person).delete()
    device = StaticDevice.objects.create(user=person, name="recovery codes", confirmed=True)
    StaticToken.objects.bulk_create(
        StaticToken(device=device, token=kept_form(code)) for code in codes
    )
    return codes


def _journal(person: Person, *, by: Person, at: datetime, deed: str) -> None:
    journal.append(
        at=at,
        by=by,
        act=Act.MANAGE_PEOPLE.value,
        subject=journal.person_hash(person)[:40],
        detail={"deed": deed},
        rows=[person],
    )


def _problem(device: Device, typed: str, *, at: datetime) -> WrongCode | None:
    is_allowed, why = device.verify_is_allowed()
    if not is_allowed:
        wait_s = max(1, math.ceil((why["locked_until"] - at).total_seconds()))
        return WrongCode(
            f"After a wrong code the next one has to wait: type it in {wait_s} s.", field="code"
        )
    return None if device.verify_token(typed) else _wrong()


def _wrong() -> WrongCode:
    message = (
        "This is not the code, or it was used before. Each counts once: take the next one of the"
        " app, and see that the clock of its telephone is right; or another recovery code."
    )
    return WrongCode(message, field="code")
