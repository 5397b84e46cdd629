"""The letter of a recall: what it says, that it lasts, that it runs over pages with its head."""

import io
import json

import pikepdf
import pypdf
import pytest

from certs.documents.recall_letter import recall_letter_pdf
from certs.rules.recall_advice import CAUTIONS, DO_NOW
from inventory.queries.kept_files import read_file
from inventory.rules.canonical import canonical_text
from inventory.rules.tag_code import grouped
from tests.certs.recalls import given_doubt, written


def pages_of(pdf):
    return [" ".join(p.extract_text().split()) for p in pypdf.PdfReader(io.BytesIO(pdf)).pages]


def printed(facts):
    return recall_letter_pdf(facts, canonical=canonical_text(facts))


@pytest.fixture
def doubt(tables):
    return given_doubt()


@pytest.fixture
def notice(doubt):
    return written(doubt.hold, words="Broken outer wires were found.")[0]


def test_it_says_what_is_in_doubt_and_what_to_do(doubt, notice):
    text = " ".join(pages_of(read_file(notice.letter)))
    for told in (
        "RN-00001",
        "First Customer",
        "Broken outer wires were found.",
        doubt.hold.code,
        doubt.piece.code,
        grouped(doubt.tag.code),
        doubt.certificate.number,
        "0.000 to 10.000 m",
        *DO_NOW,
        *CAUTIONS,
    ):
        assert told in text, told


def test_it_names_nobody_elses_goods(doubt, notice):
    text = " ".join(pages_of(read_file(notice.letter)))
    assert "Second Customer" not in text
    assert doubt.sling.code not in text
    assert doubt.sound.code not in text


def test_the_same_facts_give_the_same_bytes(notice):
    assert printed(notice.facts) == read_file(notice.letter)


def test_it_is_marked_as_pdf_a_3u(notice):
    # ISO 19005-3: the part and its conformance stand in the metadata.
    with pikepdf.open(io.BytesIO(read_file(notice.letter))) as pdf, pdf.open_metadata() as told:
        assert (told["pdfaid:part"], told["pdfaid:conformance"]) == ("3", "U")


def test_many_items_run_over_pages_each_with_the_heads_of_the_columns_and_the_number(notice):
    facts = json.loads(json.dumps(notice.facts))
    item = facts["items"][0]
    facts["items"] = [item | {"code": f"P-{number:05d}"} for number in range(1, 121)]
    pages = pages_of(printed(facts))
    assert len(pages) > 2
    assert all("RN-00001" in page for page in pages)
    with_items = [page for page in pages if "P-000" in page]
    assert all("Rope in doubt" in page for page in with_items)
    assert sum(page.count("P-00") for page in pages) >= 120


def test_words_of_people_are_only_words(notice):
    facts = notice.facts | {"words": "<b>bold</b> & <script>"}
    assert "<b>bold</b> & <script>" in pages_of(printed(facts))[0]
