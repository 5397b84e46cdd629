"""The parts of an audit where a whole record is not needed to see what they do."""

from datetime import date

import pytest
from django.core.files.storage import default_storage
from django.db import connection

from certs.queries.audit.files import files_against_hashes
from certs.queries.audit.ledger import metres_add_up
from certs.queries.audit.nodes import MOST_TOLD, Nodes
from certs.queries.audit.one_moment import one_moment
from certs.queries.audit.rows import rows_against_entries
from certs.queries.audit.scratch import Bound, Scratch
from certs.queries.audit.series import series_without_gap
from certs.queries.audit.whole import audit
from certs.rules.disagreement import MEANINGS, What
from inventory.models import (
    CutPiece,
    CutReversal,
    FittingLot,
    Heat,
    NumberSeries,
    Party,
    Person,
    Reel,
    StoredFile,
)
from inventory.rules.tree_growth import Node
from inventory.services.cut import reverse_cut
from inventory.services.rewind import rewind_reel
from tests.certs.queries.audit.world import open_the_database
from tests.factories import (
    MOMENT,
    given_customer,
    given_fitting_lot,
    given_heat,
    given_mill_document,
    given_person,
    given_piece,
    given_reel,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("file_store")]


@pytest.mark.parametrize("what", What)
def test_every_kind_of_disagreement_has_a_meaning(what):
    assert MEANINGS[what].endswith(".")


# Metres of one reel of 1000 m with pieces 0 to 10 m and 10 to 30 m.
LEDGERS = {
    "as booked": ({}, 0),
    "the second begins within the first": ({"from_mm": 9_999}, 2),
    "the second passes the end": ({"to_mm": 1_000_001}, 2),
    "the second ends at the end": ({"to_mm": 1_000_000}, 0),
    "it counts as reversed without a reversal": ({"is_reversed": True}, 1),
}


@pytest.mark.parametrize(("change", "count"), LEDGERS.values(), ids=LEDGERS.keys())
def test_metres_are_added_up_anew(change, count):
    reel = given_reel()
    given_piece(reel=reel, length_m=10)
    second = given_piece(reel=reel, length_m=20)
    assert list(metres_add_up()) == []
    open_the_database()
    CutPiece.objects.filter(pk=second.pk).update(**change)
    assert [one.what for one in metres_add_up()] == [What.LEDGER] * count


def test_a_reversal_whose_cut_stands_again_is_found():
    piece = given_piece()
    reverse_cut(cut=piece, reason="never made", by=given_person(), at=MOMENT)
    assert list(metres_add_up()) == []
    open_the_database()
    CutPiece.objects.update(is_reversed=False)
    [found] = metres_add_up()
    assert found.where == f"piece {piece.code}"


def test_a_reel_wound_here_is_as_long_as_its_cut():
    wound = rewind_reel(reel=given_reel(), from_mm=0, to_mm=9_000, by=given_person(), at=MOMENT)
    assert list(metres_add_up()) == []
    open_the_database()
    CutPiece.objects.update(to_mm=8_000)
    assert [one.where for one in metres_add_up()] == [f"reel {wound.code}"]
    CutPiece.objects.update(to_mm=9_000, is_reversed=True)
    CutReversal.objects.create(
        cut=CutPiece.objects.get(), reason="so", reversed_at=MOMENT, reversed_by=given_person()
    )
    assert [one.found for one in metres_add_up()] == ["a reversed cut"]


# Numbers that bear a code of heats, the last one taken, and the gaps that are named.
SERIES = {
    "none taken": ([], 0, []),
    "all there": ([1, 2, 3], 3, []),
    "one missing at the front": ([2, 3], 3, ["number 1"]),
    "two missing within": ([1, 4], 4, ["number 2 to 3"]),
    "the last ones missing": ([1], 3, ["number 2 to 3"]),
    "all missing": ([], 2, ["number 1 to 2"]),
    "more than were taken": ([1, 2], 1, ["no number above 1"]),
    "past five digits": ([99_999, 100_001], 100_001, ["number 1 to 99998", "number 100000"]),
}


@pytest.mark.parametrize(("numbers", "last", "gaps"), SERIES.values(), ids=SERIES.keys())
def test_gaps_of_a_series_are_named(numbers, last, gaps):
    heats = [given_heat() for _ in numbers]
    open_the_database()
    for heat, number in zip(heats, numbers, strict=True):
        Heat.objects.filter(pk=heat.pk).update(code=f"X{number}")
    for heat, number in zip(heats, numbers, strict=True):
        Heat.objects.filter(pk=heat.pk).update(code=f"H-{number:05d}")
    NumberSeries.objects.update_or_create(series="H", defaults={"last": last})
    with Scratch() as scratch:
        found = [one for one in series_without_gap(scratch) if one.where == "number series H"]
    assert [one.expected for one in found] == gaps


def test_a_file_is_read_whole_and_a_path_that_leads_out_is_not():
    kept = given_mill_document().file
    assert list(files_against_hashes(lambda _: None)) == []
    open_the_database()
    with default_storage.open(kept.path, "ab") as file:
        file.write(b" ")
    [found] = files_against_hashes(lambda _: None)
    assert found.found.startswith(f"{kept.size_bytes + 1} bytes")
    StoredFile.objects.update(path="../../secret")
    [found] = files_against_hashes(lambda _: None)
    assert found.found.startswith("not readable")


def test_a_forgotten_person_leaves_the_audit_in_peace():
    given_customer()
    assert list(audit()) == []
    Person.objects.update(journal_salt="")
    assert list(audit()) == []


def test_a_name_is_found_changed_and_found_put_in():
    party, lot = given_customer(), given_fitting_lot()
    open_the_database()
    Party.objects.filter(pk=party.pk).update(address="Elsewhere")
    FittingLot.objects.filter(pk=lot.pk).update(quantity=lot.quantity + 1)
    told = {one.what: one.where for one in audit() if one.what is not What.GUARD}
    assert told == {
        What.NAME_CHANGED: f"inventory.Party:{party.pk} ({party.code}), name, address",
        What.ROW_CHANGED: f"inventory.FittingLot:{lot.pk} ({lot.code})",
    }


def test_a_table_that_is_no_more_is_named():
    with Scratch() as scratch:
        scratch.bind([Bound("certs.Blessing", 1, "x", None, 1, 0)])
        [found] = rows_against_entries(scratch, salts={}, tell=lambda _: None)
    assert (found.what, found.where) == (What.ROW_GONE, "certs.Blessing")


def test_a_row_that_cannot_be_read_stops_nothing_else(monkeypatch):
    given_reel()

    def unreadable(row):
        return {"id": str(date.fromisoformat("never") if isinstance(row, Reel) else row.pk)}

    monkeypatch.setattr("certs.queries.audit.rows.bound_columns", unreadable)
    told = {one.where for one in audit() if one.what is What.UNREADABLE}
    assert told == {"inventory.Reel"}


def test_many_wrong_nodes_are_counted():
    tree = Nodes()
    tree.computed(Node(1, index, bytes(32)) for index in range(MOST_TOLD + 5))
    told = [*tree.compare(), *tree.beyond(0)]
    assert len(told) == MOST_TOLD + 1
    assert told[-1].found == "5 more"


@pytest.mark.usefixtures("committed_db")
def test_an_audit_leaves_the_connection_as_it_was():
    given_customer()
    with one_moment():
        assert Party.objects.count() == 1
    assert connection.get_autocommit()
    assert list(audit()) == []
    given_reel()
    assert list(audit()) == []
