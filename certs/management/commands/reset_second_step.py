"""Takes the second step away from a person at the server, when no administrator can sign in."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from inventory.queries.people import person_of_name
from inventory.rules.refusal import Refusal
from inventory.services.second_step import reset_at_server


class Command(BaseCommand):
    """`manage.py reset_second_step NAME`; the journal says that it was done at the server."""

    help = "Take the second step away from a person; at the next sign-in another is set up."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the user name."""
        parser.add_argument("username")

    def handle(self, *_args: Any, username: str, **_options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Take it away, or say why not."""
        person = person_of_name(username)
        if person is None:
            message = f"Nobody is registered as {username}."
            raise CommandError(message)
        try:
            reset_at_server(person=person, at=timezone.now())
        except Refusal as refusal:
            raise CommandError(refusal.message) from refusal
        self.stdout.write(f"{username} signs in with the pass phrase and sets up another app.")
