"""Signs a paper: PAdES with ECDSA P-256, as its author, so that nothing may be changed after.

The field is invisible, for a drawn stamp would break PDF/A; the page itself says that it is signed.
The same bytes signed twice differ, as an ECDSA signature holds chance. Where a time-stamp service
answers, the paper is sealed for long-term checking (PAdES B-LTA); otherwise it is B-B, and the
journal bounds the time.
"""

import asyncio
from collections.abc import Coroutine, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from io import BytesIO
from typing import Any, TypeVar

from asn1crypto import algos, cms, crl, ocsp, pem, x509
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from pyhanko.pdf_utils.writer import BasePdfFileWriter
from pyhanko.sign import PdfSignatureMetadata, PdfSigner
from pyhanko.sign.fields import MDPPerm, SigSeedSubFilter
from pyhanko.sign.signers.pdf_cms import Signer as CmsSigner
from pyhanko.sign.signers.pdf_signer import (
    DSSContentSettings,
    PdfSigningSession,
    SigDSSPlacementPreference,
    TimestampDSSContentSettings,
)
from pyhanko.sign.timestamps import TimeStamper
from pyhanko_certvalidator import ValidationContext
from pyhanko_certvalidator.registry import SimpleCertificateStore

from inventory.rules.signing import Signer

FIELD = "Signature"
DIGEST = "sha256"
# In hexadecimal digits: what a signature holds beside its certificates, about 1000, with room to
# spare. Known beforehand, no trial signature is made to measure it, which halves the time.
_CONTAINER_DIGITS = 2048
# DER of an ECDSA signature upon P-256 is never longer.
_LONGEST_SIGNATURE = 72

# The data of validation go in before each stamp, so that the last stamp covers the whole file and
# a reader can insist on it.
BEFORE_STAMP = TimestampDSSContentSettings(include_vri=False, update_before_ts=True)
_DATA_BEFORE_STAMP = DSSContentSettings(
    include_vri=False,
    placement=SigDSSPlacementPreference.TOGETHER_WITH_SIGNATURE,
    next_ts_settings=BEFORE_STAMP,
)

ResultT = TypeVar("ResultT")


@dataclass(frozen=True, slots=True)
class Sealing:
    """What long-term validation needs: who stamps the time, whom to trust, who is revoked."""

    timestamper: TimeStamper
    trusted_pem: Sequence[str]
    at: datetime
    revocation_lists: Sequence[bytes] = ()
    revocation_responses: Sequence[bytes] = ()

    def context(self, *, chain: Sequence[x509.Certificate] = ()) -> ValidationContext:
        """Build the context of validation from what is at hand; nothing is fetched."""
        roots = [cert for text in self.trusted_pem for cert in certificates_of(text)]
        return ValidationContext(
            trust_roots=roots,
            moment=self.at,
            other_certs=list(chain),
            crls=[crl.CertificateList.load(der) for der in self.revocation_lists],
            ocsps=[ocsp.OCSPResponse.load(der) for der in self.revocation_responses],
            allow_fetching=False,
            revocation_mode="soft-fail",
        )


def sign_pdf(
    pdf: bytes, *, signer: Signer, house: str, at: datetime, sealing: Sealing | None = None
) -> bytes:
    """Certify a PDF: the same bytes with a signature behind them, after which nothing may change.

    Args:
        signer: of purpose PAPER, with its chain of certificates.
        house: who issues, as a reader shows it beside the signature.
        at: what the signature says of the time of signing.
        sealing: where a time-stamp service is at hand.
    """
    signing = _CmsSigner(signer, embed_roots=sealing is not None)
    meta = PdfSignatureMetadata(
        field_name=FIELD,
        md_algorithm=DIGEST,
        name=house,
        reason="Issued as an original; any change ends its validity.",
        certify=True,
        docmdp_permissions=MDPPerm.NO_CHANGES,
        subfilter=SigSeedSubFilter.PADES,
        embed_validation_info=sealing is not None,
        use_pades_lta=sealing is not None,
        validation_context=sealing.context(chain=signing.chain) if sealing else None,
        dss_settings=_DATA_BEFORE_STAMP,
    )
    pdf_signer = _DatedSigner(
        meta, signer=signing, timestamper=sealing.timestamper if sealing else None, at=at
    )
    reserved = None if sealing else _CONTAINER_DIGITS + 2 * len(signing.leaf.dump())
    out: BytesIO = settled(
        pdf_signer.async_sign_pdf(
            IncrementalPdfFileWriter(BytesIO(pdf)), bytes_reserved=reserved, output=BytesIO()
        )
    )
    return out.getvalue()


@lru_cache(maxsize=64)
def certificates_of(text: str) -> tuple[x509.Certificate, ...]:
    """Read the certificates of a PEM text, in their order."""
    if not text:
        return ()
    parts = pem.unarmor(text.encode(), multiple=True)
    return tuple(x509.Certificate.load(der) for _, _, der in parts)


def settled(work: Coroutine[Any, Any, ResultT]) -> ResultT:
    """Run library code that is written as a coroutine; in a thread where a loop runs already."""
    if not _is_loop_running():
        return asyncio.run(work)
    with ThreadPoolExecutor(max_workers=1) as pool:
        return pool.submit(asyncio.run, work).result()


def _is_loop_running() -> bool:
    try:
        asyncio.get_running_loop()
    except RuntimeError:
        return False
    return True


class _CmsSigner(CmsSigner):
    """Hands what is to be signed to our own signer, which may be a token.

    The root stays outside, where it would be bytes that nobody checks; but a sealed paper holds it,
    under the time stamp, for whoever reads the list of revoked certificates in it.
    """

    def __init__(self, signer: Signer, *, embed_roots: bool = False) -> None:
        self._signer = signer
        self.leaf, *self.chain = certificates_of(signer.certificate_pem)
        others = SimpleCertificateStore()  # type: ignore[no-untyped-call]
        others.register_multiple(self.chain)
        super().__init__(
            signing_cert=self.leaf,
            cert_registry=others,
            signature_mechanism=algos.SignedDigestAlgorithm({"algorithm": "sha256_ecdsa"}),
            embed_roots=embed_roots,
        )

    async def signed_attrs(self, *args: Any, **options: Any) -> cms.CMSAttributes:  # noqa: ANN401 -- theirs
        """Build what is signed as the library does, and read it back from its bytes.

        What was built is encoded anew whenever it is looked at; what was read is not, which takes
        a seventh of the time away. The bytes are the same.
        """
        built = await super().signed_attrs(*args, **options)
        return cms.CMSAttributes.load(built.dump())

    async def async_sign_raw(
        self,
        data: bytes,
        digest_algorithm: str,
        dry_run: bool = False,  # noqa: FBT001, FBT002 -- theirs
    ) -> bytes:
        """Sign, or give as many bytes as a signature may have."""
        if digest_algorithm != DIGEST:
            message = f"papers are signed over SHA-256, not {digest_algorithm}"
            raise ValueError(message)
        return bytes(_LONGEST_SIGNATURE) if dry_run else self._signer.sign(data)


class _DatedSigner(PdfSigner):
    """Signs at a time that it is told, where the library would read the clock."""

    def __init__(
        self,
        meta: PdfSignatureMetadata,
        *,
        signer: CmsSigner,
        timestamper: TimeStamper | None,
        at: datetime,
    ) -> None:
        super().__init__(meta, signer=signer, timestamper=timestamper)
        self._at = at

    def init_signing_session(
        self,
        pdf_out: BasePdfFileWriter,
        existing_fields_only: bool = False,  # noqa: FBT001, FBT002 -- theirs
    ) -> PdfSigningSession:
        """Begin as the library does, at our time."""
        session = super().init_signing_session(pdf_out, existing_fields_only)
        session.system_time = self._at
        return session
