"""Finds the person in whose name a command acts: named, or the only active one of a role."""

from django.core.management.base import CommandError, CommandParser

from inventory.models import Person
from inventory.rules.roles import Role


def add_by(parser: CommandParser) -> None:
    """Take the user name of who acts."""
    parser.add_argument("--by", default="", help="user name of who acts; else the administrator")


def keeper(username: str) -> Person:
    """Return the person of this user name, or the only administrator there is.

    Raises:
        CommandError: there is none, or more than one to choose from.
    """
    active = Person.objects.filter(is_active=True).order_by("pk")
    if username:
        found = list(active.filter(username=username))
    else:
        found = list(active.filter(role=Role.ADMINISTRATOR.value))
    if len(found) == 1:
        return found[0]
    if username:
        message = f"No active person has the user name {username}."
    elif not found:
        message = (
            "There is no administrator yet: register the first one with manage.py"
            " register_administrator, then run this again."
        )
    else:
        message = "There are several administrators: say who acts with --by USERNAME."
    raise CommandError(message)
