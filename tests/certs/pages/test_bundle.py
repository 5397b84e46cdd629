import io
import json
import zipfile

import pytest
from django.urls import reverse

from inventory.models import JournalEntry
from tests.factories import MOMENT

ADDRESS = "/trace/bundle/"


def files_of(answer):
    archive = zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content)))
    return {name: archive.read(name) for name in archive.namelist()}


def test_the_story_offers_the_bundle_to_who_may_take_it(as_auditor, as_stores, claims):
    asked = {"code": claims.piece.code}
    page = as_auditor.get(reverse("certs:trace"), asked).text
    assert f'href="{ADDRESS}?code={claims.piece.code}"' in page
    assert ADDRESS not in as_stores.get(reverse("certs:trace"), asked).text


def test_a_story_of_an_earlier_day_offers_the_bundle_of_that_day(as_auditor, claims):
    day = MOMENT.date().isoformat()
    asked = {"code": claims.piece.code, "on": day}
    page = as_auditor.get(reverse("certs:trace"), asked).text
    href = f"{ADDRESS}?code={claims.piece.code}&amp;on={day}"
    assert f'href="{href}"' in page
    form = as_auditor.get(href.replace("&amp;", "&")).text
    assert f'value="{day}"' in form
    assert f'value="{claims.piece.code}"' in form


def test_a_bundle_is_handed_out_as_a_file_and_journalled(as_auditor, claims):
    answer = as_auditor.post(ADDRESS, {"code": claims.piece.code})
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/zip")
    assert f"record-{claims.piece.code}.zip" in answer["Content-Disposition"]
    assert answer["Content-Disposition"].startswith("attachment")
    assert answer["Cache-Control"] == "private, no-store"
    assert json.loads(files_of(answer)["story/story.json"])["asked"]["code"] == claims.piece.code
    assert JournalEntry.objects.filter(act="take_bundle", subject=claims.piece.code).count() == 1


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        pytest.param({"code": "P-4711"}, "Nothing on record", id="an unknown code"),
        pytest.param({"on": "9999-12-30"}, "has not ended", id="a day to come"),
        pytest.param({"on": "2020-01-01"}, "was not on record", id="a day too early"),
        pytest.param({"to_mm": "5 m"}, "of a reel", id="a stretch of a piece"),
    ],
)
def test_what_cannot_be_told_is_said_and_what_was_typed_kept(as_auditor, claims, asked, says):
    answer = as_auditor.post(ADDRESS, {"code": claims.piece.code} | asked)
    assert answer.status_code == 200
    assert says in answer.text
    assert not JournalEntry.objects.filter(act="take_bundle").exists()


def test_a_page_that_is_only_looked_at_takes_nothing(as_auditor, claims):
    page = as_auditor.get(ADDRESS, {"code": claims.piece.code}).text
    assert "who took which bundle is written into the journal" in page
    assert "512 MiB" in page
    assert not JournalEntry.objects.filter(act="take_bundle").exists()
