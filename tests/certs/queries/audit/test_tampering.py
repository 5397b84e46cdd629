"""Whatever is changed past the program is found and named, and nothing else is.

Each change is made as the owner of the database can make it: with every guard down.
"""

import pytest
from django.db import connection

from certs.queries.audit.checkpoints import KeptNote
from certs.queries.audit.whole import audit
from certs.rules.disagreement import What
from inventory.models import Checkpoint
from inventory.models.guards import put_up, take_down
from inventory.queries.checkpoints import log_keys
from tests.certs.queries.audit import changed_journals, changed_rows
from tests.certs.queries.audit.changed_journals import HeldKey
from tests.certs.queries.audit.world import (
    GUARDS,
    entries,
    open_the_database,
    write_anew,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("record")]

TAMPERS = changed_rows.TAMPERS | changed_journals.TAMPERS


def found(**asked):
    return {one.what for one in audit(**asked)}


def test_a_record_that_nobody_touched_agrees():
    assert list(audit()) == []


@pytest.mark.parametrize(("tamper", "expected"), TAMPERS.values(), ids=TAMPERS.keys())
def test_a_change_past_the_program_is_found(tamper, expected):
    open_the_database()
    tamper()
    assert found() == expected | {What.GUARD}


def test_each_guard_that_is_down_is_named():
    open_the_database()
    named = {one.where for one in audit()}
    here = GUARDS if connection.vendor == "postgresql" else [g for g in GUARDS if g.sqlite]
    here = here if connection.vendor == "sqlite" else [g for g in here if g.postgresql]
    assert named == {f"guard {guard.name}" for guard in here}


def test_a_guard_that_refuses_nothing_is_told_from_the_real_one():
    guard = next(guard for guard in GUARDS if guard.name == "hold_is_released_once")
    connection.check_constraints()
    take_down(connection, [guard])
    hollow = [text.replace("OLD.released_at IS NOT NULL", "1 = 0") for text in guard.sqlite]
    hollow_too = [text.replace("OLD.released_at IS NOT NULL", "1 = 0") for text in guard.postgresql]
    put_up(connection, [type(guard)(guard.name, tuple(hollow_too), tuple(hollow), (), ())])
    assert [(one.what, one.where) for one in audit()] == [
        (What.GUARD, "guard hold_is_released_once")
    ]


def kept():
    """The last checkpoint as an auditor keeps it, with the key."""
    note = Checkpoint.objects.order_by("-size").first().note
    return KeptNote(where="kept", note=note, keys=log_keys("records.example/log"))


def test_a_checkpoint_kept_outside_agrees():
    assert found(kept=[kept()]) == set()


def test_only_a_checkpoint_kept_outside_tells_a_record_that_was_signed_anew():
    outside = kept()
    open_the_database()
    told = entries()
    told[9]["at"] = "2026-03-02T07:59:59.000+00:00"
    told[9]["_at"] = changed_journals.MOMENT.replace(hour=7, minute=59, second=59)
    Checkpoint.objects.all().delete()
    write_anew(told)
    assert found() == {What.GUARD}
    assert found(kept=[outside]) == {What.GUARD, What.CHECKPOINT}
    write_anew(told[:5])
    assert What.CUT_SHORT in found(kept=[outside])


def test_a_note_that_another_key_signed_is_not_relied_on():
    known = kept().keys
    open_the_database()
    changed_journals.sign_anew(Checkpoint.objects.order_by("-size").first(), HeldKey())
    forged = KeptNote("kept", kept().note, known)
    assert What.CHECKPOINT in {one.what for one in audit(kept=[forged]) if one.where == "kept"}


def told_of(kind):
    """One line of the table for contributors: what was changed, and what the audit may name."""
    named = set().union(*(finds for name, (_, finds) in TAMPERS.items() if kind == kind_of(name)))
    return f"| {kind} | {'; '.join(what.value for what in What if what in named)} |"


def kind_of(name):
    return name.partition(":")[0]


def test_contributors_are_told_who_notices_what(settings):
    page = (settings.ROOT / "DEVELOPERS.md").read_text()
    lines = {told_of(kind_of(name)) for name in TAMPERS}
    assert lines - set(page.splitlines()) == set()
