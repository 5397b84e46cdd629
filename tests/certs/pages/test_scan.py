"""Where a code read in the workshop leads; the camera itself is tried in a browser."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from inventory.documents.photograph import MAX_PHOTO_BYTES
from tests.factories import given_reel
from tests.inventory.documents.test_code_photo import SEEN, code, sent

PAGE = "/scan/"
OURS = "https://rope.example"


@pytest.fixture(autouse=True)
def origin(settings):
    settings.PUBLIC_ORIGIN = OURS


def photographed(client, content, page=PAGE):
    photo = SimpleUploadedFile("tag.jpg", content, content_type="image/jpeg")
    return client.post(page, {"photograph": photo})


@pytest.mark.parametrize(
    ("asked", "leads_to"),
    [
        pytest.param({"code": "r-1"}, "/find/?q=r-1", id="a code, to the search"),
        pytest.param(
            {"code": f"{OURS}/reels/R-00001/", "for": "cutting"},
            "/cutting/?reel=https%3A%2F%2Frope.example%2Freels%2FR-00001%2F",
            id="a reel, to the bench that asked",
        ),
        pytest.param(
            {"code": "P-00001", "for": "labels"},
            "/labels/?things=P-00001",
            id="a piece, to the labels",
        ),
        pytest.param({"code": "R-1", "for": "elsewhere"}, "/find/?q=R-1", id="asked by nobody"),
    ],
)
def test_a_code_leads_to_who_asked_for_it(asked, leads_to, as_stores):
    assert as_stores.get(PAGE, asked)["Location"] == leads_to


@pytest.mark.parametrize(
    "seen", ["turned by 17 degrees", "aslant", "out of focus by half a module"]
)
def test_a_photograph_leads_where_its_code_does(seen, as_stores):
    answer = photographed(as_stores, sent(SEEN[seen](), quality=80))
    assert answer["Location"] == "/find/?q=HTTPS%3A%2F%2FROPE.EXAMPLE%2FT%2F7Q4K9M2ZXR3T8VW2"


def test_a_photograph_for_the_bench_leads_to_the_bench(as_stores):
    reel = given_reel()
    picture = sent(code(f"{OURS}/REELS/{reel.code}".upper()))
    answer = as_stores.get(photographed(as_stores, picture, f"{PAGE}?for=cutting")["Location"])
    assert reel.designation in answer.text


def test_an_address_of_another_house_is_not_followed(as_stores):
    for answer in (
        as_stores.get(PAGE, {"code": "https://evil.example/t/7Q4K9M2ZXR3T8VW2"}),
        photographed(as_stores, sent(code("https://evil.example/t/7Q4K9M2ZXR3T8VW2"))),
    ):
        assert answer.status_code == 200
        assert "“evil.example”, which is not this house" in answer.text
        assert 'href="https://evil.example' not in answer.text


@pytest.mark.parametrize(
    ("content", "why"),
    [
        pytest.param(b"\xff\xd8\xff" + b"\0" * MAX_PHOTO_BYTES, "larger than 8 MB", id="too large"),
        pytest.param(sent(code())[:900], "damaged", id="broken"),
        pytest.param(b"<svg onload=alert(1)>", "JPEG or PNG", id="no picture"),
        pytest.param(sent(code().resize((20, 20))), "No QR could be read", id="nothing to read"),
    ],
)
def test_what_cannot_be_read_is_said_in_words(content, why, as_stores):
    answer = photographed(as_stores, content)
    assert answer.status_code == 200
    assert why in answer.text


def test_the_camera_is_allowed_here_and_nowhere_else(as_auditor):
    here, elsewhere = as_auditor.get(PAGE), as_auditor.get("/")
    assert "camera=(self)" in here["Permissions-Policy"]
    assert "'wasm-unsafe-eval'" in here["Content-Security-Policy"]
    assert "camera=()" in elsewhere["Permissions-Policy"]
    assert "wasm" not in elsewhere["Content-Security-Policy"]


def test_without_script_the_page_says_what_serves_instead(as_auditor):
    text = as_auditor.get(reverse("certs:scan")).text
    assert "Without them take a photograph, or type the code" in text
    assert 'id="camera-start" disabled' in text
