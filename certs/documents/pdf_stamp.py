"""The time stamps upon a sealed paper: what the last one rests on, and one more upon it.

A later stamp proves that the last one was made while its certificate stood, if there lies in the
paper, under the later stamp, what proves that this certificate was not revoked. pyHanko's AdES
engine slides back to the end of the newest such list and asks whether the certificate stood then:
so that list, too, must end before the certificate does, and a paper is due earlier by as long.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from io import BytesIO
from typing import Any

from asn1crypto import crl, x509
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign import PdfTimeStamper
from pyhanko.sign.general import SigningError
from pyhanko.sign.validation import async_validate_pdf_timestamp
from pyhanko.sign.validation.dss import DocumentSecurityStore
from pyhanko.sign.validation.errors import NoDSSFoundError

from certs.documents.pdf_signature import BEFORE_STAMP, Sealing, settled

# Before a stamp ends there must be time to notice that its service is gone and to find another.
EARLY = timedelta(days=90)
_MARK = b"/DocTimeStamp"


@dataclass(frozen=True, slots=True)
class LastStamp:
    """The certificates of the last time stamp, and until when it can be checked and renewed."""

    leaf: x509.Certificate
    others: tuple[x509.Certificate, ...]
    ends_at: datetime
    # How long lists of its issuer's are good: the longest in the paper.
    list_lasts: timedelta

    @property
    def due_at(self) -> datetime:
        """When to renew it: early enough that the list put in then ends before it does."""
        return self.ends_at - self.list_lasts - EARLY


def last_stamp(content: bytes) -> LastStamp | None:
    """Read the last time stamp; None for a paper without one.

    Raises what the library raises for bytes that are no PDF: the file is one of our own.
    """
    if _MARK not in content:
        return None
    reader = PdfFileReader(BytesIO(content))
    stamps = reader.embedded_timestamp_signatures
    if not stamps:
        return None
    leaf: x509.Certificate = stamps[-1].signer_cert
    others = tuple(stamps[-1].other_embedded_certs)
    ends_at: datetime = leaf.not_valid_after
    return LastStamp(leaf, others, ends_at.astimezone(UTC), _list_lasts(reader, leaf))


def renew_pdf(pdf: bytes, *, sealing: Sealing) -> bytes:
    """Put one more archival time stamp upon a paper that was sealed, before the last one ends.

    Raises:
        SigningError: the last stamp cannot be checked any more, so that another proves nothing.
        TimestampRequestError, OSError: the service does not answer as it should.
    """
    stamps = PdfFileReader(BytesIO(pdf)).embedded_timestamp_signatures
    if not stamps:
        message = "it bears no time stamp"
        raise SigningError(message)
    status = settled(async_validate_pdf_timestamp(stamps[-1], validation_context=sealing.context()))
    if not (status.intact and status.valid and status.trusted):
        message = (
            "its last time stamp cannot be checked: it has ended, or TSA_ROOTS lacks its root,"
            " or the file was changed"
        )
        raise SigningError(message)
    out: BytesIO = settled(
        _LastStamper(sealing.timestamper).async_update_archival_timestamp_chain(
            PdfFileReader(BytesIO(pdf)), sealing.context(), in_place=False, output=BytesIO()
        )
    )
    return out.getvalue()


class _LastStamper(PdfTimeStamper):
    """Stamps so that nothing stands behind the stamp."""

    async def async_timestamp_pdf(self, *args: Any, **options: Any) -> Any:  # noqa: ANN401 -- theirs
        """Stamp as the library does, with the data of validation before the stamp."""
        return await super().async_timestamp_pdf(*args, **{**options, "dss_settings": BEFORE_STAMP})


def _list_lasts(reader: PdfFileReader, leaf: x509.Certificate) -> timedelta:
    try:
        held = DocumentSecurityStore.read_dss(reader).crls
    except NoDSSFoundError:
        return timedelta()
    spans = [timedelta()]
    for reference in held:
        listed = crl.CertificateList.load(reference.get_object().data)["tbs_cert_list"]
        until = listed["next_update"].native
        if listed["issuer"] == leaf.issuer and until is not None:
            spans.append(until - listed["this_update"].native)
    return max(spans)
