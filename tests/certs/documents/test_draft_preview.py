"""The picture of a draft: marked on every page, without a number, and with nothing to scan."""

import io
import subprocess

import pytest
import zxingcpp
from PIL import Image

from certs.models import Certificate
from certs.services.preview_draft import preview_draft
from certs.services.wording import CannotDraft
from inventory.models import JournalEntry, NumberSeries
from tests.certs.papers import given_cut_length_draft, issued
from tests.factories import MOMENT

pytestmark = pytest.mark.usefixtures("tables")


def pages_of(pdf):
    command = ["pdftotext", "-raw", "-", "-"]
    text = subprocess.run(command, input=pdf, capture_output=True, check=True).stdout.decode()
    return text.rstrip("\f").split("\f")


def pictures_of(pdf, folder):
    (folder / "draft.pdf").write_bytes(pdf)
    command = ["pdftoppm", "-r", "120", "-png", str(folder / "draft.pdf"), str(folder / "page")]
    subprocess.run(command, check=True)
    return [Image.open(io.BytesIO(file.read_bytes())) for file in sorted(folder.glob("page*"))]


def test_every_page_says_what_it_is_and_nothing_can_be_scanned(qa_officer, tmp_path):
    draft = given_cut_length_draft()
    before = list(NumberSeries.objects.order_by("id").values()), JournalEntry.objects.count()
    pdf = preview_draft(certificate=draft, by=qa_officer, at=MOMENT)
    pages = pages_of(pdf)
    assert pages
    assert all("Draft, not issued" in page for page in pages)
    assert "98.9 kN" in "".join(pages)
    assert not [
        found for page in pictures_of(pdf, tmp_path) for found in zxingcpp.read_barcodes(page)
    ]
    assert (
        list(NumberSeries.objects.order_by("id").values()),
        JournalEntry.objects.count(),
    ) == before
    assert Certificate.objects.get().state == "draft"


def test_what_is_issued_has_a_paper_and_no_picture(qa_officer):
    with pytest.raises(CannotDraft, match="is issued"):
        preview_draft(certificate=issued(given_cut_length_draft()), by=qa_officer, at=MOMENT)
