"""Revokes a key that others may hold: only what the journal bears from before stays valid."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from certs.management.keeper import add_by, keeper
from inventory.rules.refusal import Refusal
from inventory.services.keyring import revoke_key


class Command(BaseCommand):
    """`manage.py revoke_key NAME --reason TEXT`."""

    help = "Revoke a key that others may hold; whoever checks a paper reads the reason."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the name of the key, and why."""
        parser.add_argument("name", help="as make_keys printed it")
        parser.add_argument("--reason", required=True, help="one sentence, shown to everyone")
        add_by(parser)

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Revoke it now."""
        by = keeper(options["by"])
        try:
            key = revoke_key(options["name"], reason=options["reason"], by=by, at=timezone.now())
        except Refusal as refusal:
            raise CommandError(refusal.message) from refusal
        self.stdout.write(
            f"{key.name} is revoked. Make the next one: manage.py make_keys --purpose {key.purpose}"
        )
