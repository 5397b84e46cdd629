"""Puts a backup into an empty database and an empty storage, on the same engine or the other."""

from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandParser

from certs.services.restore import restore
from inventory.rules.refusal import Refusal


class Command(BaseCommand):
    """`manage.py restore IN.zip [--as-it-is]`, into what DATABASE_URL and STORAGE_ROOT name."""

    help = "Restore a backup into an empty database and an empty storage, or change nothing."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take where from."""
        parser.add_argument("source", type=Path, metavar="in", help="a file that `backup` wrote")
        parser.add_argument(
            "--as-it-is",
            action="store_true",
            help="restore a record that does not agree with its journal too, and tell what",
        )

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Make the tables where there are none; tell on stderr how far it is."""
        call_command("migrate", verbosity=0, interactive=False)
        try:
            manifest = restore(
                options["source"], told=self.stderr.write, as_it_is=options["as_it_is"]
            )
        except Refusal as refusal:
            self.stderr.write(refusal.message, self.style.ERROR)
            raise SystemExit(1) from refusal
        self.stdout.write(
            f"Restored as it stood at {manifest.made_at}: {manifest.journal_size} journal entries,"
            f" last link {manifest.chain_hash}."
        )
        for path in manifest.missing:
            self.stderr.write(
                f"{path} was not as kept when the backup was made.", self.style.WARNING
            )
        self.stdout.write(
            "Everyone signs in anew. Where private keys were not in it, put them into KEYS_ROOT."
        )
