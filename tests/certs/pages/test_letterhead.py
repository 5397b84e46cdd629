import io
import json

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from certs.models import Letterhead
from certs.queries.letterhead import current_letterhead
from inventory.models import JournalEntry, StoredFile
from inventory.queries.kept_files import read_file
from tests.certs.papers import given_cut_length_draft, issued

SHOWN, SET = "certs:letterhead", "certs:set_letterhead"
FACTS = {"name": "Invented Rope House", "address": "1 Invented Quay\nNowhere"}


def a_logo(colour="navy"):
    made = io.BytesIO()
    Image.new("RGB", (60, 20), colour).save(made, format="PNG")
    return SimpleUploadedFile("our logo.png", made.getvalue(), content_type="image/png")


def sent(client, **more):
    return client.post(reverse(SET), FACTS | more, follow=True)


def test_without_a_letterhead_papers_bear_the_settings(as_auditor, settings):
    settings.ISSUER_NAME = "House of the settings"
    assert "House of the settings" in as_auditor.get(reverse(SHOWN)).text
    assert current_letterhead().name == "House of the settings"


def test_the_administrator_sets_it_and_sees_it_as_printed(as_administrator):
    answer = sent(as_administrator, accreditation="Laboratory 0815", logo=a_logo())
    assert "papers issued from now on bear it" in answer.text
    assert "1 Invented Quay<br>Nowhere" in answer.text
    assert "An accreditation covers only what its scope names." in answer.text
    assert "data:image/png;base64," in answer.text
    assert current_letterhead().logo_sha256 == Letterhead.objects.get().logo.sha256


def test_the_logo_stays_until_another_comes_or_it_goes(as_administrator):
    sent(as_administrator, logo=a_logo())
    first = current_letterhead().logo_sha256
    sent(as_administrator, contact="office@rope.example")
    assert current_letterhead().logo_sha256 == first
    sent(as_administrator, logo=a_logo("red"))
    assert current_letterhead().logo_sha256 not in {"", first}
    sent(as_administrator, drops_logo="on")
    assert current_letterhead().logo_sha256 == ""


def test_a_logo_that_is_no_picture_is_refused_at_its_field(as_administrator):
    svg = SimpleUploadedFile("logo.svg", b"<svg/>", content_type="image/svg+xml")
    answer = sent(as_administrator, logo=svg)
    assert "Only a picture in PNG or JPEG can be a logo." in answer.text
    assert 'href="#id_logo"' in answer.text
    assert not Letterhead.objects.exists()
    assert not StoredFile.objects.exists()


def test_setting_it_is_journalled_with_the_hash_of_the_logo(as_administrator):
    sent(as_administrator, logo=a_logo())
    entry = JournalEntry.objects.get(act="set_letterhead")
    assert json.loads(entry.canonical)["detail"]["logo"] == current_letterhead().logo_sha256


def test_a_paper_keeps_the_head_that_it_was_issued_with(tables, as_administrator):
    sent(as_administrator, logo=a_logo())
    before = issued(given_cut_length_draft())
    sent(as_administrator, name="Another House", drops_logo="on")
    after = issued(given_cut_length_draft())
    heads = [json.loads(one.snapshot)["issuer"] for one in (before, after)]
    assert [head["name"] for head in heads] == ["Invented Rope House", "Another House"]
    assert [bool(head["logo_sha256"]) for head in heads] == [True, False]
    assert read_file(before.pdf) != read_file(after.pdf)


@pytest.mark.parametrize("count", [1, 3])
def test_the_history_takes_as_many_queries_for_three_as_for_one(
    count, as_administrator, django_assert_max_num_queries
):
    for _ in range(count):
        sent(as_administrator)
    with django_assert_max_num_queries(9):
        text = as_administrator.get(reverse(SHOWN)).text
    assert text.count("Invented Rope House") >= count
