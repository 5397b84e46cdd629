"""Gives the name by which the journal knows what a stranger did, who never signs in.

A report from site comes from nobody of the house. It matters all the same, so it is journalled
when it arrives, by this one person: an auditor, who may change nothing, and whose account is
closed. Nobody can register him by hand, as no user name may hold a bracket.
"""

import secrets
from datetime import datetime

from django.contrib.auth.hashers import make_password

from inventory.models import Person
from inventory.rules.roles import Act, Role
from inventory.rules.stranger import STRANGER
from inventory.services import journal
from inventory.services.locks import require_transaction

_SALT_BYTES = 32


def the_stranger(*, at: datetime) -> Person:
    """Return the person who stands for strangers; he is registered when the first one acts.

    Must run inside the transaction of the act, after its codes were taken: the registration is an
    entry of its own, and the journal's head is locked last.
    """
    require_transaction()
    person, is_new = Person.objects.get_or_create(
        username=STRANGER,
        defaults={
            "first_name": "A",
            "last_name": "stranger",
            "role": Role.AUDITOR.value,
            "is_active": False,
            "password": make_password(None),
            "journal_salt": secrets.token_hex(_SALT_BYTES),
            "date_joined": at,
        },
    )
    if is_new:
        journal.append(
            at=at,
            by=person,
            act=Act.MANAGE_PEOPLE.value,
            subject=journal.person_hash(person)[:40],
            detail={"role": person.role, "deed": "register"},
            rows=[person],
        )
    return person
