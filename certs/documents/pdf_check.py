"""Judges the signature of a PDF: whose it is, and whether anything was changed or added since.

A reader's "signature is valid" is not enough, for bytes added behind it are no part of what was
signed: the signature must also cover the whole file, but for time stamps upon it. Whatever
cannot be read is not valid. That the file is the one issued, and stands, others decide.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from io import BytesIO

import pikepdf
from asn1crypto import core
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.diff_analysis import ModificationLevel
from pyhanko.sign.fields import MDPPerm
from pyhanko.sign.validation import (
    async_validate_pdf_signature,
    async_validate_pdf_timestamp,
)
from pyhanko.sign.validation.pdf_embedded import EmbeddedPdfSignature
from pyhanko.sign.validation.status import PdfSignatureStatus, SignatureCoverageLevel
from pyhanko_certvalidator import ValidationContext

from certs.documents.pdf_signature import certificates_of, settled


class PdfFault(StrEnum):
    """What does not hold of a signed PDF."""

    UNREADABLE = "unreadable"
    UNSIGNED = "unsigned"
    KEY = "key"
    SIGNATURE = "signature"
    ADDED = "added"


_WORDS: Mapping[PdfFault, str] = {
    PdfFault.UNREADABLE: "This is no PDF that can be read, or its signature is damaged.",
    PdfFault.UNSIGNED: "It does not carry one signature of its issuer.",
    PdfFault.KEY: "It is signed, but not with a key of this house.",
    PdfFault.SIGNATURE: "Something was changed after it was signed: the signature does not fit.",
    PdfFault.ADDED: "Something was added behind the signature: what is shown may not be signed.",
}


@dataclass(frozen=True, slots=True)
class PdfCheck:
    """The judgement: a fault, or none; whose key signed and when; what was signed with it."""

    fault: PdfFault | None
    # Names of the record, as far as they could be read.
    key: str = ""
    # What the signature claims; the journal bounds it.
    signed_at: datetime | None = None
    # Of the last time stamp upon the whole file, by a service that is trusted here.
    stamped_at: datetime | None = None
    enclosures: Mapping[str, bytes] = field(default_factory=dict)

    @property
    def is_valid(self) -> bool:
        """Tell whether nothing is wrong with the signature."""
        return self.fault is None

    @property
    def words(self) -> str:
        """Say in one sentence what is wrong; empty when nothing is."""
        return _WORDS[self.fault] if self.fault else ""


def check_pdf(
    content: bytes, *, chains: Mapping[str, str], trusted_stampers: Sequence[str] = ()
) -> PdfCheck:
    """Judge the signature of a PDF. Never raises.

    Args:
        content: the file, as it came.
        chains: every paper key of the house that ever was: its name, and its chain in PEM.
        trusted_stampers: roots of time-stamp services in PEM.
    """
    try:
        return _judged(content, chains=chains, trusted_stampers=trusted_stampers)
    except Exception:  # noqa: BLE001 -- a stranger's file: whatever goes wrong, it is not valid
        return PdfCheck(PdfFault.UNREADABLE)


def _judged(
    content: bytes, *, chains: Mapping[str, str], trusted_stampers: Sequence[str]
) -> PdfCheck:
    reader = PdfFileReader(BytesIO(content))
    if len(reader.embedded_regular_signatures) != 1:
        return PdfCheck(PdfFault.UNSIGNED)
    signature: EmbeddedPdfSignature = reader.embedded_regular_signatures[0]
    signer = signature.signer_cert.dump()
    own = {name: certificates_of(pem) for name, pem in chains.items()}
    key = next((name for name, chain in own.items() if chain[0].dump() == signer), "")
    signed_at = signature.self_reported_timestamp
    if not key or signed_at is None:
        return PdfCheck(PdfFault.KEY, signed_at=signed_at)
    context = ValidationContext(
        trust_roots=[own[key][-1]],
        other_certs=list(own[key]),
        moment=signed_at,
        allow_fetching=False,
        revocation_mode="soft-fail",
    )
    stampers = [cert for pem in trusted_stampers for cert in certificates_of(pem)]
    status = settled(
        async_validate_pdf_signature(
            signature,
            signer_validation_context=context,
            ts_validation_context=_context_of_stamp(stampers, signed_at),
        )
    )
    stamped_at = _stamped_at(reader, stampers)
    fault = _fault(signature, status, is_stamped=stamped_at is not None)
    enclosed = _enclosures(content, signature) if fault is None else {}
    return PdfCheck(fault, key, signed_at, stamped_at, enclosed)


def _fault(
    signature: EmbeddedPdfSignature, status: PdfSignatureStatus, *, is_stamped: bool
) -> PdfFault | None:
    if not (status.intact and status.valid and _is_padded_with_nothing(signature)):
        return PdfFault.SIGNATURE
    if signature.docmdp_level is not MDPPerm.NO_CHANGES:
        return PdfFault.SIGNATURE
    whole = status.coverage is SignatureCoverageLevel.ENTIRE_FILE or (
        status.coverage is SignatureCoverageLevel.ENTIRE_REVISION
        and status.modification_level is ModificationLevel.LTA_UPDATES
        and is_stamped
    )
    if not whole:
        return PdfFault.ADDED
    return None if status.bottom_line else PdfFault.SIGNATURE


def _is_padded_with_nothing(signature: EmbeddedPdfSignature) -> bool:
    """See that the room left over for the signature holds zeros: nobody signs it."""
    whole = signature.pkcs7_content
    used = len(core.Asn1Value.load(whole, strict=False).dump())
    return not any(whole[used:])


def _stamped_at(reader: PdfFileReader, stampers: Sequence[object]) -> datetime | None:
    """Read the time of the last stamp, if it covers the whole file and its service is trusted."""
    stamps: Sequence[EmbeddedPdfSignature] = reader.embedded_timestamp_signatures
    if not stamps:
        return None
    last = stamps[-1]
    moment: datetime = last.signed_data["encap_content_info"]["content"].parsed["gen_time"].native
    context = _context_of_stamp(stampers, moment)
    status = settled(async_validate_pdf_timestamp(last, validation_context=context))
    is_whole = status.coverage is SignatureCoverageLevel.ENTIRE_FILE
    return moment if status.intact and status.valid and status.trusted and is_whole else None


def _context_of_stamp(stampers: Sequence[object], moment: datetime) -> ValidationContext:
    return ValidationContext(
        trust_roots=list(stampers),
        moment=moment,
        allow_fetching=False,
        revocation_mode="soft-fail",
    )


def _enclosures(content: bytes, signature: EmbeddedPdfSignature) -> dict[str, bytes]:
    """Read what is enclosed in the signed revision, whatever was added behind it."""
    _, _, start, length = signature.byte_range
    with pikepdf.open(BytesIO(content[: int(start) + int(length)])) as pdf:
        return {
            name: filespec.get_file().read_bytes() for name, filespec in pdf.attachments.items()
        }
