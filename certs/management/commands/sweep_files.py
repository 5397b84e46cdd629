"""Tells which files of the storage no row names, and takes away those that a killed act left."""

import json
from datetime import timedelta
from typing import Any

from django.core.management.base import BaseCommand, CommandParser
from django.utils import timezone

from certs.management.whole_number import whole_number
from inventory.queries.loose_files import LooseFile, loose_files
from inventory.rules.refusal import Refusal
from inventory.services.sweep import LONGEST_ACT, sweep_files

_MINUTE_S = 60
_LONGEST_ACT_MIN = int(LONGEST_ACT.total_seconds()) // _MINUTE_S


class Command(BaseCommand):
    """`manage.py sweep_files [--remove] [--older-than MINUTES] [--json]`."""

    help = "List files that no row names; with --remove, take away those older than any act."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take whether to remove, from which age on, and how to answer."""
        parser.add_argument("--remove", action="store_true", help="take the old ones away")
        parser.add_argument(
            "--older-than",
            type=whole_number,
            default=_LONGEST_ACT_MIN,
            metavar="MINUTES",
            help=f"only what is older may go (default {_LONGEST_ACT_MIN}); 0 only if nobody works",
        )
        parser.add_argument("--json", action="store_true", dest="as_json", help="print JSON")

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Print each file; say in one line why not and exit with 1 where the storage fails."""
        try:
            found = list(
                sweep_files(at=timezone.now(), older_than=timedelta(minutes=options["older_than"]))
                if options["remove"]
                else loose_files()
            )
        except Refusal as refusal:
            self.stderr.write(refusal.message, self.style.ERROR)
            raise SystemExit(1) from refusal
        if options["as_json"]:
            self.stdout.write(json.dumps([_as_json(file) for file in found], indent=2))
            return
        for file in found:
            self.stdout.write(
                f"{file.path}  {file.size_bytes} bytes, {file.laid_down_at:%F %T} UTC"
            )
        what = "taken away" if options["remove"] else "that no row names"
        self.stdout.write(f"{len(found)} {'file' if len(found) == 1 else 'files'} {what}")


def _as_json(file: LooseFile) -> dict[str, str | int]:
    return {
        "path": file.path,
        "size_bytes": file.size_bytes,
        "laid_down_at": file.laid_down_at.isoformat(),
    }
