"""Tells the whole story of a thing for scripts and for whoever sits at a terminal."""

import json
from datetime import date
from typing import Any

from django.core.management.base import BaseCommand, CommandParser
from django.utils import timezone

from certs.management.story_text import story_text
from certs.queries.as_known import trace_on
from certs.queries.trace_find import CannotTrace
from certs.queries.trace_shapes import Story
from inventory.queries.find import heats_of_number
from inventory.rules.refusal import Refusal


class Command(BaseCommand):
    """`manage.py trace CODE [--at-mm N] [--on DATE] [--json]`."""

    help = "Trace a reel, piece, assembly, heat, fitting lot, certificate, test or tag."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the code, a point if one is meant, and how to answer."""
        parser.add_argument("code", help="such as P-00012, AT-2026-00003, or a heat's number")
        parser.add_argument(
            "--at-mm",
            type=int,
            help="a point: along a piece from its near end, or on a reel's scale, in mm",
        )
        parser.add_argument(
            "--on",
            type=date.fromisoformat,
            help="a past day, YYYY-MM-DD: what was recorded after it is left out",
        )
        parser.add_argument("--json", action="store_true", dest="as_json", help="print JSON")

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Print the story, or say in one line why there is none and exit with 1."""
        try:
            story = _story(options["code"], at_mm=options["at_mm"], on=options["on"])
        except Refusal as refusal:
            self.stderr.write(refusal.message, self.style.ERROR)
            raise SystemExit(1) from refusal
        as_json = json.dumps(story, ensure_ascii=False, indent=2)
        banner = f"As known on {options['on']}, when that day ended\n" if options["on"] else ""
        self.stdout.write(as_json if options["as_json"] else banner + story_text(story))


def _story(code: str, *, at_mm: int | None, on: date | None) -> Story:
    """Trace a code; the mill's own number of a heat is taken as well."""
    heats = heats_of_number(code)
    if len(heats) > 1:
        named = ", ".join(f"{heat.code} of {heat.mill}" for heat in heats)
        codes = [heat.code for heat in heats]
        raise CannotTrace(
            f"Several heats are numbered {code}: {named}. Give a code.", choices=codes
        )
    found = heats[0].code if heats else code
    return trace_on(found, at_mm=at_mm, on=on, today=timezone.localdate())
