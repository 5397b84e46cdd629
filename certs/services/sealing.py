"""Decides whether papers are sealed for long-term checking: where a time-stamp service is named.

`TSA_URL` names the service (RFC 3161), `TSA_ROOTS` a file with the roots (PEM) it is trusted by.
What proves that no certificate in it is revoked goes into the paper; for keys under the house's
own root the house signs that list itself, the rest is fetched.
"""

from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from django.conf import settings
from pyhanko.sign.timestamps import HTTPTimeStamper, TimeStamper

from certs.documents.pdf_signature import Sealing, certificates_of
from certs.documents.pdf_stamp import LastStamp
from certs.services.revocation_data import (
    Chain,
    RevocationData,
    chain_of_stamper,
    revocation_data,
)
from inventory.documents.house_certificate import HouseRoot
from inventory.models import SigningKey
from inventory.services.key_files import NoKey
from inventory.services.new_keys import root_of

_SECONDS = 20
# How long a reader may rely on a list of revoked certificates; common practice, no source.
_LIST_LASTS = timedelta(days=35)


def sealing_for(key: str, *, at: datetime, last: LastStamp | None = None) -> Sealing:
    """Gather what seals a paper of the key of this name, by the service that is named.

    Args:
        last: the stamp upon the paper that is to be renewed.

    Raises:
        SigningError: what proves that a certificate is not revoked cannot be fetched.
        TimestampRequestError, OSError: the service does not answer, or a file is missing.
    """
    row = SigningKey.objects.get(name=key)
    stamper, trusted = time_stamper(), trusted_stampers()
    roots = [root for text in trusted for root in certificates_of(text)]
    data = revocation_data(chain_of_stamper(stamper, roots=roots), at=at)
    if last is not None:
        data += revocation_data(Chain(last.leaf, last.others, roots), at=at)
    data += _data_of_key(row, at=at)
    return Sealing(
        timestamper=stamper,
        trusted_pem=[_root_pem(row), *trusted],
        at=at,
        revocation_lists=data.lists,
        revocation_responses=data.responses,
    )


def time_stamper() -> TimeStamper:
    """Reach the service."""
    return HTTPTimeStamper(settings.TSA_URL, timeout=_SECONDS)


def trusted_stampers() -> list[str]:
    """Read the roots by which time-stamp services are trusted here."""
    path = settings.TSA_ROOTS
    return [Path(path).read_text(encoding="ascii")] if path else []


def _data_of_key(row: SigningKey, *, at: datetime) -> RevocationData:
    """Sign the list of paper keys revoked under this key's root, or fetch a company's own.

    A company's own certificates that do not say where to ask are passed: it is its own root.
    """
    try:
        root = root_of(row)
    except NoKey:
        leaf, *above = certificates_of(row.certificate_pem)
        return revocation_data(Chain(leaf, above, above[-1:]), at=at, mode="hard-fail")
    return RevocationData(lists=(_signed_list(row, root, at=at),))


def _signed_list(row: SigningKey, root: HouseRoot, *, at: datetime) -> bytes:
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
    return signed.public_bytes(serialization.Encoding.DER)


def _root_pem(row: SigningKey) -> str:
    root = x509.load_pem_x509_certificates(row.certificate_pem.encode())[-1]
    return root.public_bytes(serialization.Encoding.PEM).decode()
