"""Retires a key: it signs no more, and what it signed stays valid."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from certs.management.keeper import add_by, keeper
from inventory.rules.refusal import Refusal
from inventory.services.keyring import retire_key


class Command(BaseCommand):
    """`manage.py retire_key NAME`."""

    help = "Let a key sign no more. What it signed stays valid."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the name of the key."""
        parser.add_argument("name", help="as make_keys printed it")
        add_by(parser)

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Retire it now."""
        try:
            key = retire_key(options["name"], by=keeper(options["by"]), at=timezone.now())
        except Refusal as refusal:
            raise CommandError(refusal.message) from refusal
        self.stdout.write(f"{key.name} signs no more. What it signed stays valid.")
