"""Fetches the proof that the certificates of a time stamp, or of a key, were not revoked.

Long-term checking needs it inside the paper: a list of revoked certificates (CRL), or an answer
about one of them (OCSP), from where the certificate itself says. It is kept for an hour, as one
list serves every paper of the day.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final, Literal

from asn1crypto import x509
from django.core.cache import cache
from pyhanko.sign.general import SigningError, extract_certificate_info
from pyhanko.sign.timestamps import TimeStamper
from pyhanko_certvalidator import CertificateValidator, ValidationContext
from pyhanko_certvalidator.errors import PathError, ValidationError

from certs.documents.pdf_signature import DIGEST, settled

_KEPT: Final = timedelta(hours=1)
# Clocks differ, and an answer may be made a moment after the paper was begun.
_TOLERANCE: Final = timedelta(minutes=5)


@dataclass(frozen=True, slots=True)
class Chain:
    """A certificate, those that came with it, and the roots it should stand under."""

    leaf: x509.Certificate
    others: Sequence[x509.Certificate]
    roots: Sequence[x509.Certificate]


@dataclass(frozen=True, slots=True)
class RevocationData:
    """Lists of revoked certificates and answers about single ones, each in DER."""

    lists: tuple[bytes, ...] = ()
    responses: tuple[bytes, ...] = ()

    def __add__(self, other: "RevocationData") -> "RevocationData":
        """Put two together, each item once."""
        return RevocationData(
            tuple(dict.fromkeys(self.lists + other.lists)),
            tuple(dict.fromkeys(self.responses + other.responses)),
        )


def chain_of_stamper(stamper: TimeStamper, *, roots: Sequence[x509.Certificate]) -> Chain:
    """Ask the service for a stamp upon nothing, and read whose certificates it bears.

    Raises:
        TimestampRequestError, OSError: it does not answer as it should.
    """
    # The library asks the same to learn how long a stamp is, and keeps the answer.
    token = settled(stamper.async_dummy_response(DIGEST))
    told = extract_certificate_info(token["content"])
    return Chain(told.signer_cert, list(told.other_certs), roots)


def revocation_data(
    chain: Chain, *, at: datetime, mode: Literal["require", "hard-fail"] = "require"
) -> RevocationData:
    """Fetch what proves that no certificate of the chain is revoked.

    Args:
        mode: whether a certificate that does not say where to ask is refused (require) or passed.

    Raises:
        SigningError: one is revoked, does not stand under the roots, or nothing could be fetched.
    """
    key = f"revocation-{mode}-{chain.leaf.sha256.hex()}"
    held: tuple[datetime, RevocationData] | None = cache.get(key)
    if held is not None and abs(at - held[0]) < _KEPT:
        return held[1]
    data = settled(_fetched(chain, at=at, mode=mode))
    cache.set(key, (at, data), _KEPT.total_seconds())
    return data


async def _fetched(chain: Chain, *, at: datetime, mode: str) -> RevocationData:
    context = ValidationContext(
        trust_roots=list(chain.roots),
        other_certs=list(chain.others),
        moment=at,
        time_tolerance=_TOLERANCE,
        allow_fetching=True,
        revocation_mode=mode,
    )
    try:
        await CertificateValidator(chain.leaf, validation_context=context).async_validate_path()
    except (PathError, ValidationError) as error:
        who = chain.leaf.subject.human_friendly
        message = f"that the certificate of {who} is not revoked could not be proved: {error}"
        raise SigningError(message) from error
    finally:
        await context.aclose()  # type: ignore[no-untyped-call] # the library types all but this
    return RevocationData(
        tuple(one.dump() for one in context.crls), tuple(one.dump() for one in context.ocsps)
    )
