"""A paper as it is issued, signed: the signature, and that PDF/A-3u is kept by it.

Judged by pyHanko's validator and by poppler's `pdfsig`, which reads signatures with NSS; marks of
ISO 19005-3 are looked at with pikepdf, as no validator is among the packages.
"""

import io
import json
import re
import shutil
import subprocess
from datetime import timedelta

import pikepdf
import pytest
from asn1crypto import x509
from cryptography.hazmat.primitives.serialization import Encoding
from cryptography.x509 import load_pem_x509_certificates
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.validation import validate_pdf_signature
from pyhanko_certvalidator import ValidationContext

from certs.documents.pdf_check import check_pdf
from certs.queries.public_keys import credential_keys
from certs.rules.credential import fault_of
from inventory.models import SigningKey
from inventory.queries.kept_files import read_file
from inventory.queries.signing_keys import paper_chains
from inventory.rules.canonical import sha256_hex
from inventory.rules.signing import Purpose
from tests.certs.documents.test_certificate_pdf import text_of
from tests.certs.papers import given_cut_length_draft, issued
from tests.factories import MOMENT

pytestmark = pytest.mark.usefixtures("tables")


@pytest.fixture
def certificate():
    return issued(given_cut_length_draft())


def of_purpose(purpose):
    return SigningKey.objects.get(purpose=purpose)


def test_the_signature_is_good_by_the_library_that_reads_it(certificate):
    root = load_pem_x509_certificates(of_purpose(Purpose.PAPER).certificate_pem.encode())[-1]
    trusted = x509.Certificate.load(root.public_bytes(Encoding.DER))
    signature = PdfFileReader(io.BytesIO(read_file(certificate.pdf))).embedded_signatures[0]
    context = ValidationContext(
        trust_roots=[trusted], moment=MOMENT + timedelta(days=1), allow_fetching=False
    )
    status = validate_pdf_signature(signature, context)
    assert status.bottom_line
    assert status.coverage.name == "ENTIRE_FILE"
    assert signature.docmdp_level.name == "NO_CHANGES"
    assert signature.sig_object["/SubFilter"] == "/ETSI.CAdES.detached"
    assert status.signer_reported_dt == MOMENT


def test_the_signature_is_good_by_another_reader(certificate, tmp_path):
    assert shutil.which("pdfsig"), "install poppler-utils"
    file = tmp_path / "paper.pdf"
    file.write_bytes(read_file(certificate.pdf))
    said = subprocess.run(["pdfsig", file], capture_output=True, check=False, text=True).stdout
    assert "Signature is Valid" in said
    assert "Total document signed" in said
    assert "Signature Type: ETSI.CAdES.detached" in said
    assert "EVALUATION" in said


def test_the_signature_keeps_the_marks_of_pdf_a(certificate):
    with pikepdf.open(io.BytesIO(read_file(certificate.pdf))) as pdf:
        with pdf.open_metadata() as metadata:
            assert (metadata["pdfaid:part"], metadata["pdfaid:conformance"]) == ("3", "U")
        assert [str(i.S) for i in pdf.Root.OutputIntents] == ["/GTS_PDFA1"]
        assert len(pdf.trailer.ID) == 2
        assert len({file.unparse() for file in pdf.Root.AF}) == 2
        assert not pdf.is_encrypted


def test_the_field_is_seen_by_nobody_and_would_print(certificate):
    with pikepdf.open(io.BytesIO(read_file(certificate.pdf))) as pdf:
        (widget,) = pdf.Root.AcroForm.Fields
        assert [float(side) for side in widget.Rect] == [0, 0, 0, 0]
        hidden, printed = 2, 4  # ISO 32000-1, table 165: bits 2 and 3
        assert int(widget.F) & printed
        assert not int(widget.F) & hidden


def test_our_own_judgement_names_the_key_and_hands_out_what_was_signed(certificate):
    check = check_pdf(read_file(certificate.pdf), chains=paper_chains())
    assert check.is_valid
    assert (check.key, check.signed_at) == (of_purpose(Purpose.PAPER).name, MOMENT)
    assert check.enclosures["certificate.json"].decode() == certificate.snapshot
    assert check.enclosures["credential.json"].decode() == certificate.credential


def test_the_credential_holds_by_its_own_proof_and_binds_the_snapshot(certificate, settings):
    credential = json.loads(certificate.credential)
    assert fault_of(credential, keys=credential_keys(settings.PUBLIC_ORIGIN)) == ""
    record = credential["credentialSubject"]["record"]
    assert record["sha256"] == certificate.snapshot_sha256
    assert certificate.credential_sha256 == sha256_hex(certificate.credential.encode())


def test_the_paper_says_how_it_is_signed_and_that_the_keys_vouch_for_nobody(certificate):
    text = text_of(read_file(certificate.pdf))
    assert certificate.is_evaluation
    assert "the signature vouches for nobody" in text
    for purpose in (Purpose.PAPER, Purpose.CREDENTIAL):
        assert of_purpose(purpose).name in text
    assert "/.well-known/jwks.json" in text
    assert re.search(r"Check this paper at https?://\S+/check:", text)
