"""Keeps the register of those who may validate an inspection document, and until when.

Whoever keeps it issues nothing himself (`certs.rules.roles`).
"""

from datetime import date, datetime

from django.db import transaction

from certs.models import Representative
from certs.rules.roles import ClaimAct, may
from certs.services.authority import require
from inventory.models import Person
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Role
from inventory.services import journal
from inventory.services.guarded import add_row
from inventory.services.locks import lock_row


class CannotRegisterRepresentative(Refusal):
    """A person cannot be put on the register, or an entry not be ended."""


def register_representative(
    *,
    person: Person,
    capacity: str,
    organisation: str,
    is_independent: bool,
    valid_from_date: date,
    valid_to_date: date | None = None,
    by: Person,
    at: datetime,
) -> Representative:
    """Put a person on the register, with whom he represents and between which days, both included.

    Raises CannotRegisterRepresentative for a role that validates nothing, for a manufacturer's
    representative who is not independent (EN 10204:2004, 4.1), and for a field that is empty.
    """
    require(by=by, act=ClaimAct.REGISTER_REPRESENTATIVE)
    _check_person(person, capacity=capacity, is_independent=is_independent)
    with transaction.atomic():
        row = Representative(
            person=person,
            capacity=capacity,
            organisation=organisation.strip(),
            is_independent=is_independent,
            valid_from_date=valid_from_date,
            valid_to_date=valid_to_date,
            registered_at=at,
        )
        add_row(row, refusal=CannotRegisterRepresentative)
        _journal(row, by=by, at=at)
    return row


def end_representation(
    *, representative: Representative, valid_to_date: date, by: Person, at: datetime
) -> Representative:
    """Set the last day on which a person may validate; what he validated before stands.

    Raises CannotRegisterRepresentative for a day before the first one.
    """
    require(by=by, act=ClaimAct.REGISTER_REPRESENTATIVE)
    if valid_to_date < representative.valid_from_date:
        message = "The last day lies before the first; check both."
        raise CannotRegisterRepresentative(message, field="valid_to_date")
    with transaction.atomic():
        locked = lock_row(representative)
        locked.valid_to_date = valid_to_date
        locked.save(update_fields=["valid_to_date"])
        _journal(locked, by=by, at=at)
    return locked


def _check_person(person: Person, *, capacity: str, is_independent: bool) -> None:
    if not may(Role(person.role), ClaimAct.VALIDATE_DOCUMENT):
        message = "This person's role validates no documents; choose another, or change the role."
        raise CannotRegisterRepresentative(message, field="person")
    if capacity == Representative.Capacity.MANUFACTURER and not is_independent:
        message = (
            "The manufacturer's representative must be independent of the department that makes"
            " the product (EN 10204:2004, 4.1)."
        )
        raise CannotRegisterRepresentative(message, field="is_independent")


def _journal(row: Representative, *, by: Person, at: datetime) -> None:
    last = row.valid_to_date
    journal.append(
        at=at,
        by=by,
        act=ClaimAct.REGISTER_REPRESENTATIVE.value,
        subject=journal.person_hash(row.person)[:40],
        detail={
            "capacity": row.capacity,
            "is_independent": row.is_independent,
            "valid_from": row.valid_from_date.isoformat(),
            "valid_to": last.isoformat() if last else "",
        },
        rows=[row],
    )
