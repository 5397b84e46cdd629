"""Sets the head of the house's papers: name, address, accreditation, logo.

Papers issued before keep the head that they were issued with.
"""

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from certs.models import Letterhead
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from inventory.models import Person, StoredFile
from inventory.rules.refusal import Refusal
from inventory.services import journal
from inventory.services.guarded import add_row


class CannotSetLetterhead(Refusal):
    """A letterhead cannot be set so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadAsked:
    """What is to stand at the head of papers; `logo` is a file that the record keeps."""

    name: str
    address: str
    contact: str = ""
    registration: str = ""
    accreditation: str = ""
    logo: StoredFile | None = None


def set_letterhead(*, head: HeadAsked, by: Person, at: datetime) -> Letterhead:
    """Set the head of every paper issued from now on.

    Raises:
        CannotSetLetterhead: no name or no address, or a text that is too long.
    """
    require(by=by, act=ClaimAct.SET_LETTERHEAD)
    with transaction.atomic():
        row = Letterhead(
            name=head.name.strip(),
            address=head.address.strip(),
            contact=head.contact.strip(),
            registration=head.registration.strip(),
            accreditation=head.accreditation.strip(),
            logo=head.logo,
            set_at=at,
            set_by=by,
        )
        add_row(row, refusal=CannotSetLetterhead)
        journal.append(
            at=at,
            by=by,
            act=ClaimAct.SET_LETTERHEAD.value,
            subject="letterhead",
            detail={"logo": row.logo.sha256 if row.logo else None},
            rows=[row],
        )
    return row
