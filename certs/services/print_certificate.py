"""Makes the paper of a draft ready: facts, credential, PDF and signatures, for one number.

It writes nothing and locks nothing; whether the paper is still true when it is written is looked
at by whoever issues it.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType
from typing import Any

from django.conf import settings
from pyhanko.sign.general import SigningError
from pyhanko.sign.timestamps import TimestampRequestError

from certs.documents.certificate_pdf import certificate_pdf
from certs.documents.credential import unsigned_credential
from certs.documents.pdf_signature import sign_pdf
from certs.models import Certificate
from certs.queries.letterhead import current_letterhead, logo_of
from certs.queries.snapshot import Issuing, build_snapshot
from certs.rules.credential import sign_credential
from certs.rules.did_web import did_of, key_address
from certs.services.sealing import sealing_for
from inventory.models import Person
from inventory.queries.checkpoints import standing_head
from inventory.queries.signing_keys import keys_in_use
from inventory.rules.canonical import canonical_text, sha256_hex
from inventory.rules.refusal import Refusal
from inventory.rules.signing import Purpose, Signer
from inventory.services.key_files import NoKey
from inventory.services.keyring import signer_for


class CannotSign(Refusal):
    """The paper cannot be signed now; nothing was issued."""


@dataclass(frozen=True, slots=True)
class Printed:
    """A signed paper for one number, one state of the record and one set of keys."""

    issuing: Issuing
    canonical: str
    credential: str
    pdf: bytes


def print_certificate(
    draft: Certificate, *, number: str, code: str, by: Person, at: datetime
) -> Printed:
    """Print and sign the paper that the draft would be under this number.

    Raises:
        CannotSign: a key is missing or cannot be opened, no time stamp is to be had, or the file
            of the logo is not as it was kept.
    """
    # Named before they are opened: if they are changed in between, whoever issues sees other names.
    keys = keys_now()
    try:
        paper, credential = signer_for(Purpose.PAPER), signer_for(Purpose.CREDENTIAL)
    except NoKey as error:
        raise CannotSign(error.message) from error
    issuing = Issuing(
        number=number,
        tag_code=code,
        at=at,
        by=by,
        issuer=current_letterhead(),
        origin=settings.PUBLIC_ORIGIN,
        log=standing_head(),
        keys=keys,
    )
    canonical = canonical_facts(draft, issuing)
    snapshot = json.loads(canonical)
    told = _credential(snapshot, canonical=canonical, signer=credential)
    logo = _logo(issuing)
    pdf = certificate_pdf(snapshot, canonical=canonical, credential=told, logo=logo)
    return Printed(issuing, canonical, told, _signed(pdf, signer=paper, at=at))


def canonical_facts(draft: Certificate, issuing: Issuing) -> str:
    """Write what the paper says as canonical JSON."""
    return canonical_text(build_snapshot(draft, issuing))


def _logo(issuing: Issuing) -> bytes:
    logo = logo_of(issuing.issuer.logo_sha256)
    if issuing.issuer.logo_sha256 and not logo:
        message = (
            "The logo of the letterhead is not as it was kept, so no paper can bear it. Restore the"
            " file from a backup, or have the letterhead set again."
        )
        raise CannotSign(message)
    return logo


def keys_now() -> Mapping[str, Any]:
    """Name the keys that sign now, and whether any of them vouches for nobody."""
    held = keys_in_use()
    return MappingProxyType(
        {
            "address": f"{settings.PUBLIC_ORIGIN}/.well-known/jwks.json",
            "is_evaluation": any(key.is_evaluation for key in held.values()),
            **{purpose: key.name for purpose, key in held.items()},
        }
    )


def _credential(snapshot: dict[str, Any], *, canonical: str, signer: Signer) -> str:
    issuer = did_of(settings.PUBLIC_ORIGIN)
    document = unsigned_credential(
        snapshot, snapshot_sha256=sha256_hex(canonical.encode()), issuer=issuer
    )
    signed = sign_credential(
        document,
        verification_method=key_address(issuer, signer.name),
        created=document["validFrom"],
        sign=signer.sign,
    )
    return canonical_text(signed)


def _signed(pdf: bytes, *, signer: Signer, at: datetime) -> bytes:
    try:
        sealing = sealing_for(signer.name, at=at) if settings.TSA_URL else None
        return sign_pdf(pdf, signer=signer, house=settings.ISSUER_NAME, at=at, sealing=sealing)
    except (TimestampRequestError, SigningError, OSError) as error:
        message = (
            "The paper could not be signed and stamped with the time, so nothing was issued:"
            f" {error}. See that TSA_URL answers and TSA_ROOTS can be read, then issue it again."
        )
        raise CannotSign(message) from error
