"""Writes the record into one file, for another machine or another day."""

import hashlib
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser
from django.utils import timezone

from certs.rules.backup_manifest import manifest_text
from certs.services.back_up import back_up
from inventory.rules.refusal import Refusal


class Command(BaseCommand):
    """`manage.py backup OUT.zip [--with-keys]`."""

    help = "Write rows, kept files and the journal into one file, while others go on working."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take where to, and whether with the private keys."""
        parser.add_argument("out", type=Path, help="a file that is not there yet")
        parser.add_argument(
            "--with-keys",
            action="store_true",
            help="put the private key files in too, encrypted as they are",
        )

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Tell on stderr how far it is; exit with 1 where there is no backup or it lacks a file."""
        try:
            manifest = back_up(
                options["out"],
                at=timezone.now(),
                with_keys=options["with_keys"],
                told=self.stderr.write,
            )
        except Refusal as refusal:
            self.stderr.write(refusal.message, self.style.ERROR)
            raise SystemExit(1) from refusal
        digest = hashlib.sha256(manifest_text(manifest).encode()).hexdigest()
        self.stdout.write(
            f"{options['out']}: {manifest.journal_size} journal entries, manifest.json"
            f" of SHA-256 {digest}"
        )
        self.stdout.write(
            f"The journal's last link is {manifest.chain_hash}. Write both down elsewhere."
        )
        if not options["with_keys"]:
            self.stdout.write(
                "Private keys are not in it: keep KEYS_ROOT and its pass phrase apart."
            )
        if manifest.missing:
            self.stderr.write(
                f"{len(manifest.missing)} kept files are not in it.", self.style.ERROR
            )
            raise SystemExit(1)
