"""Changes to a person's account: role, pass phrase, closing it and opening it again.

Whatever changes what a person may do ends what he is signed in with. Nobody closes or demotes the
last administrator: nobody could then register another.
"""

from datetime import datetime

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction

from inventory.models import Person
from inventory.rules.canonical import JsonValue
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act, Role
from inventory.rules.stranger import STRANGER
from inventory.services import journal
from inventory.services.authority import require
from inventory.services.locks import lock_rows
from inventory.services.sessions import end_sessions


class CannotChangePerson(Refusal):
    """A person's account cannot be changed so."""


def close_account(*, person: Person, by: Person, at: datetime) -> Person:
    """Let a person sign in no more; what he did stays on record under his name.

    Raises:
        NotAllowed: only the administrator may.
        CannotChangePerson: closed already, or the last administrator.
    """
    require(by=by, act=Act.MANAGE_PEOPLE)
    with transaction.atomic():
        changed = _locked(person)
        if not changed.is_active:
            message = f"The account of {changed.username} is closed already."
            raise CannotChangePerson(message)
        _keep_an_administrator(changed)
        changed.is_active = False
        changed.save(update_fields=["is_active"])
        end_sessions(changed, at=at)
        _journal(changed, by=by, at=at, deed="close")
    return changed


def open_account(*, person: Person, by: Person, at: datetime) -> Person:
    """Let a person whose account was closed sign in again.

    Raises:
        NotAllowed: only the administrator may.
        CannotChangePerson: it is not closed, or the person cannot sign in with a pass phrase.
    """
    require(by=by, act=Act.MANAGE_PEOPLE)
    with transaction.atomic():
        changed = _locked(person)
        if changed.is_active:
            message = f"The account of {changed.username} is not closed."
            raise CannotChangePerson(message)
        if not changed.has_usable_password():
            message = f"{changed.username} has no pass phrase; give one first."
            raise CannotChangePerson(message)
        changed.is_active = True
        changed.save(update_fields=["is_active"])
        _journal(changed, by=by, at=at, deed="open")
    return changed


def change_role(*, person: Person, role: Role, by: Person, at: datetime) -> Person:
    """Give a person another role; he signs in anew, with a second step where it needs one.

    Raises:
        NotAllowed: only the administrator may.
        CannotChangePerson: he has that role, or is the last administrator.
    """
    require(by=by, act=Act.MANAGE_PEOPLE)
    with transaction.atomic():
        changed = _locked(person)
        if changed.role == role.value:
            message = f"{changed.username} has this role already."
            raise CannotChangePerson(message, field="role")
        _keep_an_administrator(changed)
        changed.role = role.value
        changed.save(update_fields=["role"])
        end_sessions(changed, at=at)
        _journal(changed, by=by, at=at, deed="change_role", role=role.value)
    return changed


def set_pass_phrase(*, person: Person, password: str, by: Person, at: datetime) -> Person:
    """Give a person a new pass phrase, to be told in person; he is signed out everywhere.

    Raises:
        NotAllowed: only the administrator may.
        CannotChangePerson: the pass phrase is too short or too common.
    """
    require(by=by, act=Act.MANAGE_PEOPLE)
    _check(password, person)
    with transaction.atomic():
        changed = _locked(person)
        changed.set_password(password)
        changed.save(update_fields=["password"])
        end_sessions(changed, at=at)
        _journal(changed, by=by, at=at, deed="set_pass_phrase")
    return changed


def change_own_pass_phrase(
    *, by: Person, former: str, password: str, session_key: str | None, at: datetime
) -> Person:
    """Change one's own pass phrase; every other session of the person ends, and his token.

    Args:
        former: the pass phrase until now.
        session_key: the session in which it is changed, and which goes on.

    Raises:
        CannotChangePerson: the former one is wrong, or the new one unfit or the same.
    """
    if not by.check_password(former):
        message = "This is not your pass phrase until now."
        raise CannotChangePerson(message, field="former")
    if former == password:
        message = "The new pass phrase is the former one; choose another."
        raise CannotChangePerson(message, field="password")
    _check(password, by)
    with transaction.atomic():
        changed = _locked(by)
        changed.set_password(password)
        changed.save(update_fields=["password"])
        end_sessions(changed, at=at, but=session_key)
        _journal(changed, by=changed, at=at, deed="change_own_pass_phrase")
    return changed


def _check(password: str, person: Person) -> None:
    try:
        validate_password(password, user=person)
    except ValidationError as error:
        raise CannotChangePerson(" ".join(error.messages), field="password") from error


def _locked(person: Person) -> Person:
    """Lock the person and every administrator, so that two do not demote each other at once.

    Raises:
        CannotChangePerson: it is nobody, but the name under which reports from site are journalled.
    """
    if person.username == STRANGER:
        message = "This name stands for strangers on site: nobody signs in with it, ever."
        raise CannotChangePerson(message)
    keepers = Person.objects.filter(role=Role.ADMINISTRATOR.value).values_list("pk", flat=True)
    return next(row for row in lock_rows(Person, [person.pk, *keepers]) if row.pk == person.pk)


def _keep_an_administrator(person: Person) -> None:
    if person.role != Role.ADMINISTRATOR.value or not person.is_active:
        return
    others = Person.objects.filter(role=Role.ADMINISTRATOR.value, is_active=True)
    if not others.exclude(pk=person.pk).exists():
        message = "This is the last administrator; appoint another one first."
        raise CannotChangePerson(message)


def _journal(person: Person, *, by: Person, at: datetime, deed: str, **facts: JsonValue) -> None:
    journal.append(
        at=at,
        by=by,
        act=Act.MANAGE_PEOPLE.value,
        subject=journal.person_hash(person)[:40],
        detail={"deed": deed, **facts},
        rows=[person],
    )
