"""The command writes a whole bundle or none, and says in one line why."""

import json
import zipfile
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from inventory.models import JournalEntry
from inventory.rules.roles import Role
from tests.factories import MOMENT, given_person, given_piece

pytestmark = pytest.mark.django_db


def run(*arguments, by=None):
    out = StringIO()
    name = (by or given_person(Role.AUDITOR)).username
    call_command("bundle", *map(str, arguments), "--by", name, stdout=out, stderr=out)
    return out.getvalue()


def refused(*arguments, **who):
    before = JournalEntry.objects.filter(act="take_bundle").count()
    with pytest.raises(SystemExit) as left:
        run(*arguments, **who)
    assert left.value.code == 1
    assert JournalEntry.objects.filter(act="take_bundle").count() == before


def story_in(path):
    with zipfile.ZipFile(path) as archive:
        return json.loads(archive.read("story/story.json"))


def test_a_bundle_is_written_for_its_owner_alone(tmp_path):
    out = tmp_path / "bundle.zip"
    piece = given_piece()
    said = run(piece.code, out)
    assert story_in(out)["asked"]["code"] == piece.code
    assert out.stat().st_mode & 0o777 == 0o600
    entry = JournalEntry.objects.get(act="take_bundle")
    assert json.loads(entry.canonical)["detail"]["manifest_sha256"] in said
    assert [one.name for one in tmp_path.iterdir()] == ["bundle.zip"]


def test_a_stretch_and_a_day_are_taken(tmp_path):
    near = given_piece(from_m=10)
    given_piece(reel=near.reel, from_m=500)
    day = MOMENT.date().isoformat()
    run(near.reel.code, tmp_path / "b.zip", "--stretch", "0-30.5", "--on", day, "--roles-only")
    story = story_in(tmp_path / "b.zip")
    assert [piece["code"] for piece in story["pieces"]] == [near.code]
    assert (story["asked"]["from_mm"], story["asked"]["to_mm"]) == (0, 30_500)


@pytest.mark.parametrize(
    "more",
    [
        pytest.param(["--on", "2020-01-01"], id="a day before it was recorded"),
        pytest.param(["--on", "9999-12-30"], id="a day to come"),
        pytest.param(["--stretch", "0-5"], id="a stretch of a piece"),
    ],
)
def test_what_cannot_be_told_leaves_no_file(tmp_path, more):
    refused(given_piece().code, tmp_path / "b.zip", *more)
    assert list(tmp_path.iterdir()) == []


def test_no_file_is_written_over(tmp_path):
    out = tmp_path / "b.zip"
    out.write_bytes(b"mine")
    refused(given_piece().code, out)
    assert out.read_bytes() == b"mine"


def test_who_may_not_take_one_gets_none(tmp_path):
    refused(given_piece().code, tmp_path / "b.zip", by=given_person(Role.STORES))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("stretch", ["70", "a-b", "1-x"])
def test_a_stretch_that_cannot_be_read_is_said_so(tmp_path, stretch):
    with pytest.raises(CommandError, match="stretch"):
        run(given_piece().reel.code, tmp_path / "b.zip", "--stretch", stretch)
