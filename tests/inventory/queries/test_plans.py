"""Every trace finds its rows by index: no table of the record is read from end to end."""

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory.models import Person
from inventory.queries.holds import held_stretches, holds_on_assembly, holds_on_piece, holds_on_reel
from inventory.queries.neighbours import neighbours
from inventory.queries.trace_back import back_from_assembly, back_from_piece
from inventory.queries.trace_forward import (
    forward_from_fitting_lot,
    forward_from_heat,
    forward_from_piece,
    forward_from_reel,
)
from tests.inventory.queries import rope

pytestmark = pytest.mark.django_db

QUESTIONS = {
    "a piece's trace": lambda s: back_from_piece(s.piece),
    "an assembly's trace": lambda s: back_from_assembly(s.assembly),
    "a heat's trace": lambda s: forward_from_heat(s.heat),
    "metres of a reel": lambda s: forward_from_reel(s.mill, from_mm=10, to_mm=20),
    "a lot's trace": lambda s: forward_from_fitting_lot(s.lot),
    "what a piece became": lambda s: forward_from_piece(s.piece),
    "neighbours": lambda s: neighbours(s.wound, metre_mm=10, span_mm=10),
    "holds on a piece": lambda s: holds_on_piece(s.piece),
    "holds on a reel": lambda s: holds_on_reel(s.wound),
    "holds on an assembly": lambda s: holds_on_assembly(s.assembly),
    "metres under hold": lambda s: held_stretches(s.wound),
}


class Story:
    def __init__(self):
        Person.objects.create(username=rope.code("U"), role="auditor", journal_salt="salt")
        self.heat, self.mill = rope.heat(), rope.mill_reel(1000)
        rope.tie(self.mill, self.heat)
        self.wound = rope.rewound(self.mill, 500, 900)
        self.piece = rope.cut(self.wound, 0, 100)
        self.lot = rope.fitting_lot(cast=self.heat)
        self.assembly = rope.assembly(self.piece, lot=self.lot)
        rope.delivery(self.assembly, rope.cut(self.mill, 0, 10))
        for subject in ("heat", "piece", "assembly"):
            rope.hold(**{subject: getattr(self, subject)})
        rope.hold(reel=self.wound)
        rope.hold(fitting_lot=self.lot)


def read_from_end_to_end(sql):
    """The tables that the plan of this SQL reads without an index."""
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            # Tables this small are scanned by choice; forbidden, a scan is left only where no
            # index serves.
            cursor.execute("SET LOCAL enable_seqscan = off")
            cursor.execute(f"EXPLAIN {sql}")
            plan = "\n".join(row[0] for row in cursor.fetchall())
            return re.findall(r"Seq Scan on (inventory_\w+)", plan)
        cursor.execute(f"EXPLAIN QUERY PLAN {sql}")
        steps = [row[3] for row in cursor.fetchall()]
    walked = {"up", "down", "reach", "seed", "CONSTANT"}
    return [step for step in steps if step.startswith("SCAN") and step.split()[1] not in walked]


def scans(question, story):
    with CaptureQueriesContext(connection) as asked:
        question(story)
    assert asked.captured_queries
    return [step for query in asked.captured_queries for step in read_from_end_to_end(query["sql"])]


@pytest.mark.parametrize("question", QUESTIONS.values(), ids=QUESTIONS)
def test_no_table_is_read_from_end_to_end(question):
    assert scans(question, Story()) == []


def test_none_is_when_the_database_has_measured_its_tables():
    """With statistics both planners choose anew, and SQLite not always well."""
    story, *_others = [Story() for _ in range(30)]
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")
    found = {name: scans(question, story) for name, question in QUESTIONS.items()}
    assert found == {name: [] for name in QUESTIONS}


def test_a_reading_from_end_to_end_is_seen():
    assert read_from_end_to_end("SELECT * FROM inventory_cutpiece WHERE note = ''") != []
