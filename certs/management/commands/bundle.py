"""Writes an auditor's bundle into a file: the whole story of a code, with what proves it."""

import argparse
from datetime import date
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser
from django.utils import timezone

from certs.management.keeper import add_by, keeper
from certs.queries.as_known import check_past
from certs.services.take_bundle import Asked, TakenBundle, take_bundle
from inventory.models import Person
from inventory.rules.refusal import Refusal
from inventory.rules.units import parse_length_mm
from inventory.services.whole_file import whole_file


class Command(BaseCommand):
    """`manage.py bundle CODE [--stretch A-B] [--on DATE] [--roles-only] --by USERNAME OUT.zip`."""

    help = "Write everything on record about a code into one ZIP archive, and journal who took it."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the code, what of it, as of when, and where to."""
        parser.add_argument("code", help="such as P-00012, R-00001, AT-2026-00003, or a tag")
        parser.add_argument("out", type=Path, help="a file that is not there yet")
        parser.add_argument(
            "--stretch", type=_stretch, default=(None, None), help="of a reel, in metres: 70-110.5"
        )
        parser.add_argument(
            "--on",
            type=date.fromisoformat,
            help="a past day, YYYY-MM-DD: what was recorded after it is left out",
        )
        parser.add_argument(
            "--roles-only", action="store_true", help="tell people by their role, not by name"
        )
        add_by(parser)

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Write the file whole or not at all; exit with 1 and one line where there is none."""
        from_mm, to_mm = options["stretch"]
        asked = Asked(
            code=options["code"],
            on=options["on"],
            from_mm=from_mm,
            to_mm=to_mm,
            with_names=not options["roles_only"],
        )
        try:
            if asked.on is not None:
                check_past(asked.on, today=timezone.localdate())
            taken = _written(options["out"], asked=asked, by=keeper(options["by"]))
        except (Refusal, OSError) as refusal:
            self.stderr.write(str(refusal), self.style.ERROR)
            raise SystemExit(1) from refusal
        written = taken.written
        self.stdout.write(
            f"{options['out']}: {written.files} files, MANIFEST.json of SHA-256"
            f" {written.manifest_sha256}"
        )


def _written(out: Path, *, asked: Asked, by: Person) -> TakenBundle:
    """Write beside the place first, so that there is a whole bundle or none."""
    if out.exists():
        message = f"{out} is there already; a bundle is never written over another file."
        raise Refusal(message)
    # For its owner only: it names people and firms.
    with whole_file(out) as file:
        return take_bundle(asked=asked, into=file, by=by, at=timezone.now())


def _stretch(text: str) -> tuple[int, int]:
    """Read "70-110.5" as millimetres."""
    first, parted, last = text.partition("-")
    try:
        if parted:
            return parse_length_mm(first), parse_length_mm(last)
    except Refusal as refusal:
        raise argparse.ArgumentTypeError(refusal.message) from refusal
    message = f"“{text}” is no stretch: write it as 70-110.5, in metres."
    raise argparse.ArgumentTypeError(message)
