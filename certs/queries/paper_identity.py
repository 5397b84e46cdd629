"""Finds which paper of ours a file is: the one issued, one stamped later, a copy for the site.

A file is only what its bytes are, or what its data prove of themselves: neither its name nor the
number on it counts, for anyone can write those.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from certs.documents.certificate_pdf import site_copy_identifier, site_copy_pdf
from certs.documents.handed_in_paper import HandedInPaper, json_object
from certs.models import Certificate, PaperRenewal
from certs.queries.claims import certificate_of
from certs.queries.letterhead import logo_of
from certs.queries.public_keys import credential_keys
from certs.rules.credential import fault_of
from inventory.rules.canonical import sha256_hex


class Identity(StrEnum):
    """What a file is to us."""

    ISSUED = "issued"
    RENEWED = "renewed"
    SITE_COPY = "site_copy"
    CHANGED = "changed"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Identified:
    """What a file is, and which certificate it is of; None where that is not known."""

    identity: Identity
    certificate: Certificate | None

    @property
    def is_ours(self) -> bool:
        """Tell whether the bytes are ours, every one of them."""
        return self.identity not in {Identity.CHANGED, Identity.UNKNOWN}


def identify(content: bytes, handed_in: HandedInPaper, *, origin: str) -> Identified:
    """Tell which paper a file is.

    Args:
        content: the file.
        handed_in: what it says of itself.
        origin: under which our credentials are signed.
    """
    digest = sha256_hex(content)
    issued = Certificate.objects.filter(pdf_sha256=digest).values_list("number", flat=True).first()
    if issued:
        return Identified(Identity.ISSUED, certificate_of(issued))
    renewed = PaperRenewal.objects.filter(file__sha256=digest).select_related("certificate").first()
    if renewed is not None:
        return Identified(Identity.RENEWED, certificate_of(str(renewed.certificate.number)))
    copied = _copied(content, handed_in)
    if copied is not None:
        return Identified(Identity.SITE_COPY, copied)
    named = _named(handed_in.credential, origin=origin)
    return Identified(Identity.CHANGED if named else Identity.UNKNOWN, named)


def _copied(content: bytes, handed_in: HandedInPaper) -> Certificate | None:
    """Print the site copy of the paper that the title names, and compare every byte.

    Only for a file that bears its identifier: printing takes long, and how long an answer takes
    must not tell a stranger which numbers there are.
    """
    certificate = certificate_of(handed_in.title.rpartition(" ")[2])
    if certificate is None or not certificate.snapshot:
        return None
    if site_copy_identifier(certificate.pdf_sha256) != handed_in.identifier:
        return None
    snapshot = json_object(certificate.snapshot.encode())
    if snapshot is None:
        return None
    copy = site_copy_pdf(
        snapshot,
        pdf_sha256=certificate.pdf_sha256,
        logo=logo_of(snapshot["issuer"].get("logo_sha256", "")),
    )
    return certificate if copy == content else None


def _named(credential: dict[str, Any] | None, *, origin: str) -> Certificate | None:
    """Take the number from enclosed data, if they prove that they are ours."""
    if credential is None or fault_of(credential, keys=credential_keys(origin)):
        return None
    subject = credential.get("credentialSubject")
    told = subject.get("certificate") if isinstance(subject, dict) else None
    number = told.get("number") if isinstance(told, dict) else None
    return certificate_of(number) if isinstance(number, str) and number else None
