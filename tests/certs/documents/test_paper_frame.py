"""How a paper is framed: its head, what runs over its pages, and how it ends."""

import io
import json

import pikepdf
import pypdf
import pytest
from PIL import Image

from certs.documents.certificate_pdf import certificate_pdf
from certs.documents.logo import take_logo
from tests.certs.papers import given_cut_length_draft, issued

pytestmark = pytest.mark.usefixtures("tables")


@pytest.fixture
def snapshot():
    return json.loads(issued(given_cut_length_draft()).snapshot)


@pytest.fixture
def logo():
    made = io.BytesIO()
    Image.new("RGB", (400, 100), "navy").save(made, format="PNG")
    return take_logo(made.getvalue())


def pages_of(snapshot, **more):
    pdf = certificate_pdf(snapshot, canonical=json.dumps(snapshot), **more)
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]


def long(snapshot, count):
    (piece,) = snapshot["pieces"]
    pieces = [{**piece, "code": f"P-{n:05d}"} for n in range(1, count + 1)]
    return {**snapshot, "pieces": pieces}


def test_page_two_and_later_carry_number_and_title_in_their_head(snapshot):
    first, *later = pages_of(long(snapshot, 130))
    assert len(later) > 1
    for number, text in enumerate(later, start=2):
        assert f"{snapshot['number']} · {snapshot['title']}" in text
        assert f"page {number} of {len(later) + 1}" in text
    assert f"{snapshot['number']} · {snapshot['title']}" not in first


@pytest.mark.parametrize("count", [1, 20, 60, 130])
def test_the_last_page_holds_more_than_cautions(snapshot, count):
    last = pages_of(long(snapshot, count))[-1]
    assert "How these values were derived" in last or "Sources." in last
    assert f"End of {snapshot['number']}" in last


def test_what_is_alike_of_many_pieces_is_said_once_a_page(snapshot):
    pages = pages_of(long(snapshot, 60))
    listed = [text for text in pages if "Rope designation" in text]
    assert 1 <= len(listed) <= 3
    assert all(text.count(snapshot["pieces"][0]["designation"]) <= 3 for text in listed)


def test_the_head_prints_every_part_of_the_letterhead(snapshot, logo):
    issuer = {
        "name": "Invented Rope House", "address": "1 Invented Quay",
        "contact": "office@rope.example",
        "registration": "Register 4711", "accreditation": "Laboratory 0815 for tensile tests",
    }  # fmt: skip
    first = pages_of({**snapshot, "issuer": issuer}, logo=logo)[0]
    for told in issuer.values():
        assert told in first
    assert "An accreditation covers only what its scope names." in " ".join(first.split())


def test_a_head_without_accreditation_claims_none(snapshot):
    assert "accreditation covers" not in " ".join(pages_of(snapshot)[0].split())


def test_the_logo_is_in_the_file_and_the_same_bytes_come_out_each_time(snapshot, logo):
    pdf = certificate_pdf(snapshot, canonical="{}", logo=logo)
    assert certificate_pdf(snapshot, canonical="{}", logo=logo) == pdf
    with pikepdf.open(io.BytesIO(pdf)) as opened, opened.open_metadata() as metadata:
        assert len(opened.pages[0].get_images()) == 1
        # ISO 19005-3: part and conformance; a picture changes neither.
        assert (metadata["pdfaid:part"], metadata["pdfaid:conformance"]) == ("3", "U")
