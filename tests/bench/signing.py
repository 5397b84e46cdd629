"""How long the signature of a paper takes, against the library as it comes."""

import io
import json

from asn1crypto import keys
from cryptography.hazmat.primitives import serialization
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from pyhanko.sign import PdfSignatureMetadata, signers
from pyhanko.sign.fields import MDPPerm, SigSeedSubFilter
from pyhanko_certvalidator.registry import SimpleCertificateStore

from certs.documents.certificate_pdf import certificate_pdf
from certs.documents.pdf_signature import certificates_of, sign_pdf
from inventory.rules.signing import Purpose
from inventory.services.keyring import signer_for
from inventory.services.open_keys import FileSigner
from tests.bench.timing import Ratio, compare
from tests.certs.papers import given_cut_length_draft, issued
from tests.factories import MOMENT


def signing(*, pairs: int) -> Ratio:
    """One certificate's signature, against the library's simple signer measuring for itself."""
    paper = issued(given_cut_length_draft())
    pdf = certificate_pdf(
        json.loads(paper.snapshot), canonical=paper.snapshot, credential=paper.credential
    )
    signer = signer_for(Purpose.PAPER)
    assert isinstance(signer, FileSigner)
    simple = _simple(signer)
    meta = PdfSignatureMetadata(
        field_name="Signature",
        md_algorithm="sha256",
        certify=True,
        docmdp_permissions=MDPPerm.NO_CHANGES,
        subfilter=SigSeedSubFilter.PADES,
    )

    def default() -> None:
        signers.sign_pdf(IncrementalPdfFileWriter(io.BytesIO(pdf)), meta, signer=simple)

    return compare(
        "sign one certificate",
        ours=lambda: sign_pdf(pdf, signer=signer, house="Invented", at=MOMENT),
        peer=default,
        against="pyHanko as it comes, same key and kind of signature",
        pairs=pairs,
    )


def _simple(signer: FileSigner) -> signers.SimpleSigner:
    der = signer.key.private_bytes(
        serialization.Encoding.DER,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
    leaf, *_ = chain = certificates_of(signer.certificate_pem)
    return signers.SimpleSigner(
        signing_cert=leaf,
        signing_key=keys.PrivateKeyInfo.load(der),
        cert_registry=SimpleCertificateStore.from_certs(chain),
    )
