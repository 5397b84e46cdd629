"""The command tells a story as JSON or text; what cannot be told leaves with 1 and one line."""

import json
from io import StringIO

import pytest
from django.core.management import call_command

from certs.queries.trace import trace_code
from tests.factories import (
    MOMENT,
    given_assembly,
    given_delivery,
    given_fitting_lot,
    given_heat,
    given_hold,
    given_mill,
    given_piece,
    given_reel,
)

pytestmark = pytest.mark.django_db


def run(*arguments):
    out = StringIO()
    call_command("trace", *arguments, stdout=out)
    return out.getvalue()


def refused(*arguments):
    err = StringIO()
    with pytest.raises(SystemExit) as left:
        call_command("trace", *arguments, stdout=StringIO(), stderr=err)
    assert left.value.code == 1
    return err.getvalue()


def test_json_is_the_story():
    piece = given_piece()
    assert json.loads(run(piece.code, "--json")) == trace_code(piece.code)


def test_a_point_is_told():
    piece = given_piece(from_m=30)
    point = json.loads(run(piece.code, "--at-mm", "1250", "--json"))["point"]
    assert point["on_reels"] == [{"reel": piece.reel.code, "metre_mm": 31_250}]


def test_the_text_names_what_came_before_and_after():
    reel = given_reel()
    piece = given_piece(reel=reel, from_m=30)
    lot = given_fitting_lot()
    assembly = given_assembly(pieces=[piece], lot=lot)
    delivery = given_delivery(assembly)
    heat = reel.heat_ties.get().heat

    text = run(piece.code)

    assert text.splitlines()[0].startswith(f"cut piece {piece.code}: 10.000 m of ")
    assert f"heat {heat.number} ({heat.code}) of {heat.mill.name}: {reel.code} 30.000 m" in text
    assert f"{assembly.code}, delivery {delivery.code}" in text
    assert f"{delivery.customer.code}  {delivery.customer.name}: {delivery.code}" in text
    assert lot.code in run(assembly.code)


def test_a_hold_is_told_with_its_reason():
    piece = given_piece()
    hold = given_hold(piece)
    assert f"{hold.code}  {piece.code}, reaches it: {hold.reason}" in run(piece.code)


def test_the_number_that_the_mill_gave_a_heat_is_taken():
    heat = given_heat(number="77-1234")
    assert json.loads(run("77-1234", "--json"))["asked"]["code"] == heat.code


def test_a_number_of_two_mills_is_refused_with_both():
    heats = [given_heat(mill=given_mill(name), number="1234") for name in ("Mill A", "Mill B")]
    error = refused("1234")
    assert all(heat.code in error for heat in heats)


def test_an_unknown_code_is_refused_in_one_line():
    assert refused("P-99999", "--json").splitlines() == [
        "Nothing on record has the code “P-99999”."
    ]


def test_an_earlier_day_is_told():
    piece = given_piece()
    day = MOMENT.date().isoformat()
    given_piece(reel=piece.reel)
    assert json.loads(run(piece.code, "--on", day, "--json")) == trace_code(piece.code)
    assert run(piece.code, "--on", day).startswith(f"As known on {day}, when that day ended")


def test_a_day_before_it_was_recorded_leaves_with_one_line():
    assert "was not on record" in refused(given_piece().code, "--on", "2020-01-01")
