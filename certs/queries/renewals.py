"""Finds the later time stamps upon a paper."""

from certs.models import Certificate, PaperRenewal


def last_renewal(certificate: Certificate) -> PaperRenewal | None:
    """Return the last renewal of a paper with its file; None where there was none."""
    renewals = PaperRenewal.objects.filter(certificate=certificate).select_related("file")
    return renewals.order_by("-made_at", "-id").first()
