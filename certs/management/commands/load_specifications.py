"""Loads the published specification tables that come with the program; harmless to repeat."""

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from certs.services.load_specifications import CannotLoad, TableCount, load_specifications


class Command(BaseCommand):
    """`manage.py load_specifications`."""

    help = "Load the specification tables from fixtures/specification. Harmless to repeat."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take another folder of files, for one's own copy of the tables."""
        parser.add_argument(
            "--folder",
            type=Path,
            default=settings.ROOT / "fixtures" / "specification",
            help="folder that holds the files",
        )

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Load, and print what each file held and what it changed."""
        try:
            counts = load_specifications(folder=options["folder"])
        except CannotLoad as refusal:
            raise CommandError(str(refusal)) from refusal
        for count in counts:
            self.stdout.write(_line(count))
            for key in count.in_use:
                self.stdout.write(f"  left as it is, a reel's strength rests on it: {key}")
            for key in count.not_in_file:
                self.stdout.write(f"  kept, no longer in the file: {key}")
        if not any(count.has_changed for count in counts):
            self.stdout.write("Nothing changed: the tables are loaded already.")


def _line(count: TableCount) -> str:
    return (
        f"{count.file_name}: {count.in_file} rows, {count.added} added, "
        f"{count.changed} changed, {count.unchanged} unchanged"
    )
