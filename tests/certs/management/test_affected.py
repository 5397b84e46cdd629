"""The command that lists papers which state too much."""

import json

import pytest
from django.core.management import call_command

from tests.certs.claims import given_breaking_test
from tests.certs.papers import given_cut_length_draft, given_documented_reel, issued
from tests.factories import given_piece, given_sample

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]


def test_nothing_to_tell_is_said(capsys):
    call_command("affected")
    assert "No paper in force" in capsys.readouterr().out


def test_a_paper_is_told_in_lines_and_as_json(capsys):
    reel = given_documented_reel()
    paper = issued(given_cut_length_draft(given_piece(reel=reel)))
    test = given_breaking_test(sample=given_sample(reel=reel), peak_n=90_000)
    call_command("affected")
    text = capsys.readouterr().out
    for told in (paper.number, test.code, "states 98.9 kN, supported at most 90 kN"):
        assert told in text
    call_command("affected", "--json")
    (row,) = json.loads(capsys.readouterr().out)
    assert (row["number"], row["tests"]) == (paper.number, [test.code])
