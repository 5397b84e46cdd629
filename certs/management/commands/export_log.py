"""Writes the journal as static files: for a web server, a monitor, or a drawer in another house."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from inventory.rules.refusal import Refusal
from inventory.services.export_log import export_log


class Command(BaseCommand):
    """`manage.py export_log DIR`."""

    help = "Write checkpoint, tiles and entries of the journal into a folder, only what is new."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take where to."""
        parser.add_argument("folder", type=Path, help="a folder; it is made where it is not there")

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Say how far the folder reaches; exit with 1 where it cannot be brought up to date."""
        try:
            done = export_log(options["folder"])
        except Refusal as refusal:
            self.stderr.write(refusal.message, self.style.ERROR)
            raise SystemExit(1) from refusal
        self.stdout.write(
            f"{options['folder']}: {done.size} entries, {done.files} files written."
            " The entries name no person; they tell what was done, so mind who may read them."
        )
