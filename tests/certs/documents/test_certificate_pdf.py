"""The issued PDF: archive marks, one attachment, fonts embedded, a QR that opens the right page.

Marks follow ISO 19005-3 (PDF/A-3); no validator is among the packages, so the structure that
the standard asks for is looked at with pikepdf.
"""

import io
import json
import re
import shutil
import subprocess

import pikepdf
import pypdf
import pytest
import zxingcpp
from PIL import Image

from certs.documents.certificate_pdf import certificate_pdf, site_copy_pdf
from inventory.queries.kept_files import read_file
from tests.certs.claims import given_proof_test
from tests.certs.papers import (
    given_assembly_draft,
    given_certifiable_assembly,
    given_cut_length_draft,
    given_representative,
    issued,
)

pytestmark = pytest.mark.usefixtures("tables")


@pytest.fixture
def certificate():
    return issued(given_cut_length_draft())


@pytest.fixture
def assembly_certificate():
    assembly = given_certifiable_assembly()
    given_proof_test(assembly=assembly)
    return issued(given_assembly_draft(assembly, first_validator=given_representative()))


def opened(certificate) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(read_file(certificate.pdf)))


def text_of(pdf: bytes) -> str:
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def picture_of(pdf: bytes) -> Image.Image:
    """The first page as a picture, as a printer would make it."""
    assert shutil.which("pdftoppm"), "install poppler-utils"
    made = subprocess.run(
        ["pdftoppm", "-r", "150", "-f", "1", "-l", "1", "-png"],
        input=pdf,
        capture_output=True,
        check=True,
    )
    return Image.open(io.BytesIO(made.stdout))


def test_it_is_marked_as_pdf_a_3u(certificate):
    with opened(certificate) as pdf, pdf.open_metadata() as metadata:
        assert metadata["pdfaid:part"] == "3"
        assert metadata["pdfaid:conformance"] == "U"


def test_it_has_one_output_intent_and_an_identifier(certificate):
    with opened(certificate) as pdf:
        assert [str(i.S) for i in pdf.Root.OutputIntents] == ["/GTS_PDFA1"]
        assert len(pdf.trailer.ID) == 2


def test_it_is_tagged_in_british_english(certificate):
    with opened(certificate) as pdf:
        assert bool(pdf.Root.MarkInfo.Marked)
        assert str(pdf.Root.Lang) == "en-GB"
        assert "/StructTreeRoot" in pdf.Root


def test_the_data_is_enclosed_plain_and_signed_as_the_data_of_the_page(certificate):
    with opened(certificate) as pdf:
        assert sorted(pdf.attachments) == ["certificate.json", "credential.json"]
        held = (certificate.snapshot, certificate.credential)
        for name, text in zip(sorted(pdf.attachments), held, strict=True):
            enclosed = pdf.attachments[name]
            assert str(enclosed.obj.AFRelationship) == "/Data"
            assert {"/F", "/UF", "/Desc", "/EF"} <= set(enclosed.obj.keys())
            assert {"/Subtype", "/Params"} <= set(enclosed.obj.EF.F.keys())
            assert "/ModDate" in enclosed.obj.EF.F.Params
            assert enclosed.get_file().read_bytes().decode() == text


def test_every_font_is_embedded_and_is_ours(certificate):
    with opened(certificate) as pdf:
        fonts = [font for page in pdf.pages for font in page.Resources.Font.values()]
        inner = [font.DescendantFonts[0].FontDescriptor for font in fonts]
        assert {str(d.FontName).partition("+")[2].partition("-")[0] for d in inner} <= {
            "Ropewalk",
            "RopewalkSans",
            "RopewalkMono",
        }
        assert all({"/FontFile2", "/FontFile3"} & set(d.keys()) for d in inner)
        assert all("/ToUnicode" in font for font in fonts)


def test_it_runs_nothing_and_is_not_locked(certificate):
    with opened(certificate) as pdf:
        assert not pdf.is_encrypted
        assert "/OpenAction" not in pdf.Root
        assert b"/JavaScript" not in read_file(certificate.pdf)


def test_the_same_snapshot_gives_the_same_bytes_and_the_signature_follows_them(certificate):
    again = certificate_pdf(
        json.loads(certificate.snapshot),
        canonical=certificate.snapshot,
        credential=certificate.credential,
    )
    assert read_file(certificate.pdf).startswith(again)


def test_the_qr_read_from_the_printed_page_leads_to_the_tag_page(certificate, settings):
    found = zxingcpp.read_barcodes(picture_of(read_file(certificate.pdf)))
    code = certificate.tags.get().code
    assert [one.text for one in found] == [f"{settings.PUBLIC_ORIGIN}/t/{code}".upper()]


def test_the_page_says_what_is_certified_and_why(certificate):
    text = text_of(read_file(certificate.pdf))
    # 0.388 x 12^2 x 1770 / 1000 = 98.89, factor of EN 12385-4 as printed by Feyrer, Table 1.9.
    assert "98.9 kN" in text
    assert "0.388 × 12² × 1770 / 1000" in text
    assert "local law" in text.lower()


def test_number_and_page_count_stand_on_every_page(assembly_certificate):
    pages = pypdf.PdfReader(io.BytesIO(read_file(assembly_certificate.pdf))).pages
    for number, page in enumerate(pages, start=1):
        text = page.extract_text()
        assert f"page {number} of {len(pages)}" in text
        assert str(assembly_certificate.number) in text


def test_an_assembly_certificate_tells_the_proof_load_and_the_weakest_link(assembly_certificate):
    text = text_of(read_file(assembly_certificate.pdf))
    assert "Proof-load test PT-00001: passes" in text
    assert "Weakest link" in text
    assert "Working load limit" in text


def test_the_site_copy_names_no_purchaser(certificate):
    snapshot = json.loads(certificate.snapshot)
    copy = site_copy_pdf(snapshot, pdf_sha256=certificate.pdf_sha256)
    text = text_of(copy)
    assert "Invented Customer" not in text
    assert "PO-77" not in text
    assert certificate.pdf_sha256 in text
    with pikepdf.open(io.BytesIO(copy)) as pdf:
        assert not pdf.attachments


def words_of(pdf: bytes) -> list[tuple[float, str]]:
    """Every word with its right edge in points, as it lies on the page."""
    made = subprocess.run(
        ["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True
    )
    found = re.findall(r'xMax="([\d.]+)"[^>]*>([^<]*)</word>', made.stdout.decode())
    return [(float(right), word) for right, word in found]


@pytest.fixture
def crowded(certificate):
    """Many pieces, each with words as long as the record allows for a rope of five heats."""
    snapshot = json.loads(certificate.snapshot)
    (piece,) = snapshot["pieces"]
    long = {
        "designation": "105.5 8x36WS-EPIWRC(K) 2160 A sZ compacted",
        "heats": [
            {**heat, "number": f"HEAT-LONG-{n}"} for heat in piece["heats"] for n in range(5)
        ],
        "from_mm": 1_110_437,
        "to_mm": 1_161_827,
        "tolerance": "ordered 50.000 m −100/+500 mm",
    }
    snapshot["pieces"] = [{**piece, **long, "code": f"P-{n:05d}"} for n in range(1, 161)]
    return certificate_pdf(snapshot, canonical=certificate.snapshot)


def test_many_pieces_stand_under_a_head_on_every_page(crowded):
    texts = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(crowded)).pages]
    # The first piece is spoken of elsewhere too; the others stand in this table alone.
    listed = [text for text in texts if re.search(r"P-00(?:00[2-9]|0[1-9]\d|1\d\d)", text)]
    assert len(listed) > 2
    assert all("Rope designation" in text for text in listed)
    assert {f"P-{n:05d}" for n in range(1, 161)} <= set(re.findall(r"P-\d{5}", " ".join(texts)))


def test_long_words_stay_within_the_margins(crowded):
    # A4 is 210 mm wide (ISO 216) and the right margin 16 mm; a point is 1/72 inch.
    edge = (210 - 16) / 25.4 * 72
    assert [word for right, word in words_of(crowded) if right > edge + 0.5] == []
