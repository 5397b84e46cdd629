"""Makes the paper that a draft would be now, marked as a draft; nothing is taken or written."""

from datetime import datetime

from django.conf import settings

from certs.documents.draft_preview import draft_pdf
from certs.models import Certificate
from certs.queries.letterhead import current_letterhead, logo_of
from certs.queries.snapshot import Issuing, build_snapshot
from certs.services.wording import CannotDraft
from inventory.models import Person


def preview_draft(*, certificate: Certificate, by: Person, at: datetime) -> bytes:
    """Print the picture of a draft; everyone of the house may look at one.

    Raises:
        CannotDraft: it is issued: its paper is kept.
        NoBasis: the breaking force of a reel cannot be derived.
    """
    if certificate.state != Certificate.State.DRAFT:
        raise CannotDraft(f"{certificate.number} is issued: look at its paper instead.")
    head = current_letterhead()
    now = Issuing(number="", tag_code="", at=at, by=by, issuer=head, origin=settings.PUBLIC_ORIGIN)
    return draft_pdf(build_snapshot(certificate, now), logo=logo_of(head.logo_sha256))
