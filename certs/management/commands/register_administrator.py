"""Registers the first administrator of a new house; every other person is registered by one."""

import sys
from getpass import getpass
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from inventory.rules.refusal import Refusal
from inventory.rules.roles import Role
from inventory.services.people import register_person


class Command(BaseCommand):
    """`manage.py register_administrator USERNAME FULL_NAME`, journalled, as by no other command."""

    help = "Register the first administrator. The pass phrase is asked for, or read from stdin."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take who it is; a pass phrase given here would stand in the list of processes."""
        parser.add_argument("username")
        parser.add_argument("full_name", help="as it stands on papers: 'Ada Example'")

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Register this person, or say why not."""
        try:
            person = register_person(
                username=options["username"],
                full_name=options["full_name"],
                role=Role.ADMINISTRATOR,
                password=_pass_phrase(),
                by=None,
                at=timezone.now(),
            )
        except Refusal as refusal:
            raise CommandError(refusal.message) from refusal
        self.stdout.write(f"{person.username} may sign in. Next: manage.py make_keys.")


def _pass_phrase() -> str:
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\n")
    typed = getpass("Pass phrase, 12 signs or more: ")
    if typed != getpass("Once more: "):
        raise CommandError("These are two different pass phrases.")
    return typed
