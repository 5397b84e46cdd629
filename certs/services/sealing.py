"""Decides whether papers are sealed for long-term checking: where a time-stamp service is named.

`TSA_URL` names the service (RFC 3161), `TSA_ROOTS` a file with the roots (PEM) it is trusted by.
"""

from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from django.conf import settings
from pyhanko.sign.timestamps import HTTPTimeStamper, TimeStamper

from certs.documents.pdf_signature import Sealing
from inventory.models import SigningKey
from inventory.services.key_files import NoKey
from inventory.services.new_keys import root_of

_SECONDS = 20
# How long a reader may rely on a list of revoked certificates; common practice, no source.
_LIST_LASTS = timedelta(days=35)


def sealing_for(key: str, *, at: datetime) -> Sealing | None:
    """Gather what seals a paper of the key of this name; None where no service is named."""
    if not settings.TSA_URL:
        return None
    row = SigningKey.objects.get(name=key)
    return Sealing(
        timestamper=time_stamper(),
        trusted_pem=[_root_pem(row), *trusted_stampers()],
        at=at,
        revocation_lists=revocation_lists(row, at=at),
    )


def time_stamper() -> TimeStamper:
    """Reach the service."""
    return HTTPTimeStamper(settings.TSA_URL, timeout=_SECONDS)


def trusted_stampers() -> list[str]:
    """Read the roots by which time-stamp services are trusted here."""
    path = settings.TSA_ROOTS
    return [Path(path).read_text(encoding="ascii")] if path else []


def revocation_lists(row: SigningKey, *, at: datetime) -> list[bytes]:
    """Sign the list of paper keys revoked under this key's root; none for a company's own root."""
    try:
        root = root_of(row)
    except NoKey:
        return []
    listed = (
        x509.CertificateRevocationListBuilder()
        .issuer_name(root.certificate.subject)
        .last_update(at)
        .next_update(at + _LIST_LASTS)
        # RFC 5280, 5.2.1 and 5.2.3: every list has these two.
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(root.key.public_key()),
            critical=False,
        )
        .add_extension(x509.CRLNumber(int(at.timestamp())), critical=False)
    )
    revoked = SigningKey.objects.filter(purpose=row.purpose, revoked_at__isnull=False)
    for other in revoked.order_by("id"):
        leaf, *above = x509.load_pem_x509_certificates(other.certificate_pem.encode())
        if above and above[-1] == root.certificate and other.revoked_at is not None:
            entry = x509.RevokedCertificateBuilder().serial_number(leaf.serial_number)
            listed = listed.add_revoked_certificate(entry.revocation_date(other.revoked_at).build())
    signed = listed.sign(root.key, hashes.SHA256())
    return [signed.public_bytes(serialization.Encoding.DER)]


def _root_pem(row: SigningKey) -> str:
    root = x509.load_pem_x509_certificates(row.certificate_pem.encode())[-1]
    return root.public_bytes(serialization.Encoding.PEM).decode()
