import pytest
from django.core.checks import Error
from django.core.management import call_command
from django.db import connection

from certs.models import claim_guards
from certs.project.checks import check_guards
from inventory.models import ledger_guards
from inventory.models.guards import take_down

pytestmark = pytest.mark.django_db

GUARDS = {guard.name: guard for guard in (*ledger_guards.GUARDS, *claim_guards.GUARDS)}


def complaints():
    return [message.msg for message in check_guards(databases=["default"])]


def test_a_migrated_database_has_every_guard():
    assert complaints() == []


@pytest.mark.parametrize(
    "name",
    ["cut_pieces_never_overlap", "cut_piece_within_its_reel", "certificate_life_moves_forward"],
)
def test_a_guard_that_was_taken_down_is_named(name):
    take_down(connection, [GUARDS[name]])
    found = check_guards(databases=["default"])
    assert [(type(message), message.id) for message in found] == [(Error, "certs.E005")]
    assert name in found[0].msg


def test_without_a_database_named_nothing_is_asked(django_assert_num_queries):
    with django_assert_num_queries(0):
        assert check_guards() == []


def test_the_command_puts_up_what_is_down(capsys):
    take_down(connection, [GUARDS["hold_is_released_once"]])
    call_command("put_up_guards")
    assert "hold_is_released_once was down and stands again." in capsys.readouterr().out
    assert complaints() == []


def test_the_command_does_nothing_the_second_time(capsys):
    call_command("put_up_guards")
    assert capsys.readouterr().out == "Every guard stood already.\n"
