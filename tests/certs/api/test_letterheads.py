import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from tests.api import get, post

FACTS = {"name": "Invented Rope House", "address": "1 Invented Quay"}


def a_logo():
    made = io.BytesIO()
    Image.new("RGB", (60, 20), "navy").save(made, format="PNG")
    return SimpleUploadedFile("logo.png", made.getvalue(), content_type="image/png")


def test_a_letterhead_is_set_and_is_the_first_of_the_list(admin, qa):
    post(admin, "letterheads/", FACTS)
    last = post(admin, "letterheads/", FACTS | {"accreditation": "Laboratory 0815"})
    assert last["accreditation"] == "Laboratory 0815"
    assert get(qa, "letterheads/")["results"][0] == last


def test_a_logo_comes_with_it_and_stays(admin):
    made = admin.post("/api/letterheads/", FACTS | {"logo": a_logo()}, format="multipart").json()
    assert len(made["logo_sha256"]) == 64
    assert post(admin, "letterheads/", FACTS)["logo_sha256"] == made["logo_sha256"]
    assert post(admin, "letterheads/", FACTS | {"drops_logo": True})["logo_sha256"] is None


@pytest.mark.parametrize("missing", FACTS)
def test_without_name_or_address_there_is_none(admin, missing):
    answer = admin.post("/api/letterheads/", FACTS | {missing: ""}, format="json")
    assert (answer.status_code, list(answer.json())) == (400, [missing])
