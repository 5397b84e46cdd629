"""The journal entry by which a certificate was issued: what its proof is about."""

from certs.models import Certificate
from certs.rules.roles import ClaimAct
from inventory.models import JournalEntry


def issue_entry(certificate: Certificate) -> JournalEntry | None:
    """Return the entry of an issued certificate; None for a draft."""
    if not certificate.number:
        return None
    return JournalEntry.objects.filter(
        subject=certificate.number, act=ClaimAct.ISSUE_CERTIFICATE
    ).first()
