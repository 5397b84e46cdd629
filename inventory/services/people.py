"""Registers the people who sign in. What their role may do is decided in the rules."""

import secrets
from datetime import datetime

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from inventory.models import Person
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act, Role
from inventory.services import journal
from inventory.services.authority import require
from inventory.services.guarded import add_row

_SALT_BYTES = 32
# As long as a column of Django's user takes.
_LONGEST_NAME = 150


class CannotRegisterPerson(Refusal):
    """A person cannot be registered."""


def register_person(
    *,
    username: str,
    full_name: str,
    role: Role,
    password: str | None,
    by: Person | None,
    at: datetime,
) -> Person:
    """Register a person with one role.

    Args:
        password: None for a person who cannot sign in with a password.
        by: None for the very first person, who must be an administrator and registers himself.

    Raises:
        CannotRegisterPerson: a name taken or not fit, a weak password, or nobody answers for it.
    """
    if by is not None:
        require(by=by, act=Act.MANAGE_PEOPLE)
    elif role is not Role.ADMINISTRATOR or Person.objects.exists():
        message = "Only the first administrator registers himself; ask an administrator."
        raise CannotRegisterPerson(message)
    person = _described(username=username, full_name=full_name, role=role, at=at)
    _set_password(person, password)
    with transaction.atomic():
        _refuse_taken(person)
        try:
            add_row(person, refusal=CannotRegisterPerson)
        except IntegrityError as error:  # somebody registered the very name since we looked
            _refuse_taken(person, cause=error)
            raise
        journal.append(
            at=at,
            by=by or person,
            act=Act.MANAGE_PEOPLE.value,
            subject=journal.person_hash(person)[:40],
            detail={"role": role.value, "deed": "register"},
            rows=[person],
        )
        # The head of the journal is ours now: whoever spells the name otherwise is seen as well.
        _refuse_taken(person)
    return person


def _refuse_taken(person: Person, *, cause: IntegrityError | None = None) -> None:
    """Refuse a user name that another person has, however it is spelled."""
    namesakes = Person.objects.filter(username__iexact=person.username)
    if namesakes.exclude(pk=person.pk).exists():
        message = "A person of this user name is registered already; choose another."
        raise CannotRegisterPerson(message, field="username") from cause


def _described(*, username: str, full_name: str, role: Role, at: datetime) -> Person:
    if not full_name.strip():
        message = "Give the person's name; it stands on papers that he signs."
        raise CannotRegisterPerson(message, field="full_name")
    first, _, last = full_name.strip().rpartition(" ")
    if max(len(first), len(last)) > _LONGEST_NAME:
        message = f"This name is too long for a paper; write at most {_LONGEST_NAME} signs."
        raise CannotRegisterPerson(message, field="full_name")
    try:
        Person.username_validator(username.strip())
    except ValidationError as error:
        message = "A user name is made of letters, digits and the signs @ . + - _ without a space."
        raise CannotRegisterPerson(message, field="username") from error
    return Person(
        username=Person.normalize_username(username.strip()),
        first_name=first,
        last_name=last,
        role=role.value,
        journal_salt=secrets.token_hex(_SALT_BYTES),
        date_joined=at,
    )


def _set_password(person: Person, password: str | None) -> None:
    if password is None:
        person.set_unusable_password()
        return
    try:
        validate_password(password, user=person)
    except ValidationError as error:
        raise CannotRegisterPerson(" ".join(error.messages), field="password") from error
    person.set_password(password)
