"""Sets the head of the house's papers: name, address, accreditation, logo.

Papers issued before keep the head that they were issued with.
"""

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from certs.documents.logo import take_logo
from certs.models import Letterhead
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from inventory.models import Person, StoredFile
from inventory.rules.refusal import Refusal
from inventory.services import journal
from inventory.services.files import keep_made
from inventory.services.guarded import add_row


class CannotSetLetterhead(Refusal):
    """A letterhead cannot be set so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadAsked:
    """What is to stand at the head of papers.

    `logo` is a picture that the record keeps already; `logo_sent` one that was just handed in, PNG
    or JPEG, and goes before it.
    """

    name: str
    address: str
    contact: str = ""
    registration: str = ""
    accreditation: str = ""
    logo: StoredFile | None = None
    logo_sent: bytes = b""


def set_letterhead(*, head: HeadAsked, by: Person, at: datetime) -> Letterhead:
    """Set the head of every paper issued from now on.

    Raises:
        CannotSetLetterhead: no name or no address, or a text that is too long.
        UnfitFile: the logo is no picture that can be taken.
    """
    require(by=by, act=ClaimAct.SET_LETTERHEAD)
    picture = take_logo(head.logo_sent) if head.logo_sent else b""
    with transaction.atomic():
        logo = head.logo
        if picture:
            logo = keep_made(content=picture, name="logo.png", media_type="image/png", at=at)
        row = Letterhead(
            name=head.name.strip(),
            address=head.address.strip(),
            contact=head.contact.strip(),
            registration=head.registration.strip(),
            accreditation=head.accreditation.strip(),
            logo=logo,
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
            rows=[row, *([logo] if logo and picture else [])],
        )
    return row
