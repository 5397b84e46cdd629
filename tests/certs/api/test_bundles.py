"""Bundles over the API."""

import io
import json
import zipfile

import pytest

from inventory.models import JournalEntry
from tests.factories import MOMENT, given_piece

pytestmark = pytest.mark.usefixtures("tables")


def test_a_bundle_is_one_archive(qa):
    piece = given_piece()
    asked = {"code": piece.code, "on": MOMENT.date().isoformat(), "with_names": False}
    answer = qa.post("/api/bundles/", asked)
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/zip")
    archive = zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content)))
    assert json.loads(archive.read("story/story.json"))["asked"]["code"] == piece.code
    (entry,) = JournalEntry.objects.filter(act="take_bundle")
    assert json.loads(entry.canonical)["detail"]["with_names"] is False


def test_a_stretch_is_taken_of_a_reel_alone(qa):
    piece = given_piece()
    answer = qa.post("/api/bundles/", {"code": piece.reel.code, "from_mm": 0, "to_mm": 500})
    archive = zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content)))
    assert json.loads(archive.read("story/story.json"))["asked"]["to_mm"] == 500
    refused = qa.post("/api/bundles/", {"code": piece.code, "to_mm": 500})
    assert refused.status_code == 400


@pytest.mark.parametrize("day", ["9999-12-30", "2020-01-01"])
def test_a_day_of_which_nothing_can_be_told_is_refused(qa, day):
    answer = qa.post("/api/bundles/", {"code": given_piece().code, "on": day})
    assert (answer.status_code, answer.json()["field"]) == (400, "on")
