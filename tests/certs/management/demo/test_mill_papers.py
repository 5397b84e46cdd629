"""An invented mill document arrives as a file that may be kept, and says that it is invented."""

import re
from io import BytesIO

import pytest
from PIL import Image
from pypdf import PdfReader

from certs.management.demo.mill_papers import NOTICE, GoodsLine, MillPaper, as_pdf, as_picture
from inventory.documents.upload import check_scan
from tests.factories import given_heat, given_mill


@pytest.fixture
def paper(db):
    heat = given_heat(number="4711", analysis={"C": "0.75", "Mn": "0.620"})
    return MillPaper(
        maker=given_mill(),
        number="MD-5",
        kind="3.1",
        issued="2026-05-28",
        validated_by="",
        goods=[GoodsLine("K-1", "8 6x19S-IWRC 1770 B sZ", "2000 m", "4711")],
        heats=[heat],
    )


def test_the_pdf_holds_the_goods_and_the_figures_as_given(paper):
    pdf = as_pdf(paper)
    text = " ".join(PdfReader(BytesIO(pdf)).pages[0].extract_text().split())
    assert check_scan(pdf).media_type == "application/pdf"
    for told in (NOTICE, "8 6x19S-IWRC 1770 B sZ", "4711", "0.620"):
        assert told in text


def test_all_columns_of_a_long_analysis_stand_on_the_page(paper):
    symbols = ("C", "Si", "Mn", "P", "S", "Cr", "Ni", "Mo", "Cu", "N")
    paper.heats[0].analysis = {symbol: f"0.{n}77" for n, symbol in enumerate(symbols)}
    page = PdfReader(BytesIO(as_pdf(paper))).pages[0]
    ends = []

    def note(text, matrix, place, _font, _size):
        if re.fullmatch(r"0\.\d77", text.strip()):
            ends.append(matrix[0] * place[4] + matrix[4])

    page.extract_text(visitor_text=note)
    assert len(ends) == len(symbols)
    assert max(ends) < page.mediabox.width - 40


def test_the_same_document_is_the_same_bytes(paper):
    assert as_pdf(paper) == as_pdf(paper)


def test_the_picture_is_a_page_with_something_on_it(paper):
    picture = as_picture(paper)
    page = Image.open(BytesIO(picture))
    assert check_scan(picture).media_type == "image/png"
    assert page.size == (1240, 1754)
    assert page.getextrema()[0] < 100
