from io import BytesIO

import pikepdf
from django.urls import reverse

from certs.models import Tag
from certs.services.tags import issue_tag
from tests.factories import MOMENT, given_assembly, given_person, given_piece, given_sample


def asked(*things, sheet="a4-medium"):
    return {"things": "\n".join(thing.code for thing in things), "sheet": sheet, "skip": "0"}


def test_a_sheet_is_made_and_each_thing_gets_one_tag(as_quality, db):
    things = given_piece(), given_assembly()
    answer = as_quality.post(reverse("certs:labels"), asked(*things))
    with pikepdf.open(BytesIO(answer.content)) as sheet:
        assert len(sheet.pages) == 1
    assert Tag.objects.count() == 2


def test_a_standing_tag_is_printed_again(as_quality, db):
    piece = given_piece()
    issue_tag(piece=piece, by=given_person(), at=MOMENT)
    as_quality.post(reverse("certs:labels"), asked(piece))
    assert Tag.objects.count() == 1


def test_a_reel_stands_for_its_pieces_for_supply(as_quality, db):
    piece = given_piece()
    given_sample(reel=piece.reel)
    as_quality.post(reverse("certs:labels"), asked(piece.reel))
    assert Tag.objects.get().piece == piece


def test_an_unknown_code_is_refused_and_kept(as_quality, db):
    answer = as_quality.post(
        reverse("certs:labels"), {"things": "Z-1", "sheet": "a4-medium", "skip": "0"}
    )
    assert "is no piece" in answer.text
    assert "Z-1</textarea>" in answer.text


def test_the_code_of_another_house_gets_no_label(as_quality, db):
    piece = given_piece()
    strange = f"https://evil.example/pieces/{piece.code}/"
    sent = {"things": strange, "sheet": "a4-medium", "skip": "0"}
    assert "not this house" in as_quality.post(reverse("certs:labels"), sent).text
    assert not Tag.objects.exists()


def test_a_tag_is_revoked_for_a_reason(as_quality, claims):
    page = reverse("certs:revoke_tag", args=[claims.tag.code])
    as_quality.post(page, {"reason": "torn off"})
    assert Tag.objects.get(pk=claims.tag.pk).revoke_reason == "torn off"
