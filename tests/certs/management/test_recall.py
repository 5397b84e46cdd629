"""The command lists what a suspect reaches; a suspect that is not one thing leaves with 1."""

import json
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from certs.queries.trace import recall_heat, recall_lot
from tests.factories import (
    given_assembly,
    given_delivery,
    given_fitting_lot,
    given_heat,
    given_mill,
    given_piece,
    given_reel,
)

pytestmark = pytest.mark.django_db


def run(*arguments):
    out = StringIO()
    call_command("recall", *arguments, stdout=out)
    return out.getvalue()


def refused(*arguments):
    err = StringIO()
    with pytest.raises(SystemExit) as left:
        call_command("recall", *arguments, stdout=StringIO(), stderr=err)
    assert left.value.code == 1
    return err.getvalue()


def pieces_of(text):
    return [piece["code"] for piece in json.loads(text)["pieces"]]


@pytest.fixture
def shared_number(db):
    """Two mills with a heat 583107, and a reel of each."""
    heats = [given_heat(mill=given_mill(name), number="583107") for name in ("Mill A", "Mill B")]
    return [(heat, given_piece(reel=given_reel(heats=[heat]))) for heat in heats]


def test_json_is_the_recall():
    heat = given_piece().reel.heat_ties.get().heat
    assert json.loads(run("--heat", heat.number, "--json")) == recall_heat(heat)
    assert json.loads(run("--heat", heat.code, "--json")) == recall_heat(heat)


def test_a_number_that_two_mills_share_is_refused_with_the_choices(shared_number):
    error = refused("--heat", "583107")
    assert all(f"--mill {heat.mill.code}" in error for heat, _ in shared_number)
    assert len(error.splitlines()) == 1


def test_the_mill_tells_which_of_them(shared_number):
    for heat, piece in shared_number:
        assert pieces_of(run("--heat", "583107", "--mill", heat.mill.code, "--json")) == [
            piece.code
        ]


def test_metres_of_a_reel_reach_the_pieces_cut_there():
    reel = given_reel()
    first, second = (given_piece(reel=reel, from_m=at) for at in (110, 120))
    text = run("--reel", reel.code, "--from", "120.5", "--to", "121", "--json")
    assert pieces_of(text) == [second.code]
    assert pieces_of(run("--reel", reel.code, "--json")) == [first.code, second.code]


def test_a_lot_reaches_its_assemblies():
    lot = given_fitting_lot()
    delivery = given_delivery(given_assembly(lot=lot))
    assert json.loads(run("--lot", lot.code, "--json")) == recall_lot(lot)
    text = run("--lot", lot.code)
    assert "1 piece, 1 of them delivered; 1 assembly; 1 customer; 0 certificates in" in text
    assert delivery.customer.name in text


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["--heat", "no such"], "No heat has the number “no such”."),
        (["--heat", "no such", "--mill", "M-1"], "No heat has the number “no such” of mill M-1."),
        (["--reel", "P-00001"], "No reel has the code “P-00001”."),
        (["--lot", "F-00009"], "No fitting lot has the code “F-00009”."),
        (["--lot", "F-1", "--from", "2"], "Metres are named only with a reel."),
        (["--reel", "R-1", "--mill", "M-1"], "A mill is named only with the number of a heat."),
    ],
)
def test_what_is_not_there_is_refused_in_one_line(arguments, sentence):
    assert refused(*arguments).splitlines() == [sentence]


def test_a_stretch_past_the_end_is_refused():
    reel = given_reel(length_m=100)
    assert "ends at 100.000 m" in refused("--reel", reel.code, "--from", "50", "--to", "100.5")


@pytest.mark.parametrize("arguments", [[], ["--heat", "1", "--lot", "F-1"]], ids=["none", "two"])
def test_exactly_one_suspect_is_asked_for(arguments):
    with pytest.raises(CommandError):
        run(*arguments)
