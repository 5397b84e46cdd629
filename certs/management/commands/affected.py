"""Tells the papers in force that state more than the record supports since a test failed."""

import json
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from certs.queries.papers_affected import AffectedPaper, papers_affected


class Command(BaseCommand):
    """`manage.py affected [--json]`."""

    help = "List papers in force that state more than a failed breaking-force test leaves."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take how to answer."""
        parser.add_argument("--json", action="store_true", dest="as_json", help="print JSON")

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Print them, the oldest first."""
        found = papers_affected()
        if options["as_json"]:
            rows = [{**asdict(paper), "issued_at": paper.issued_at.isoformat()} for paper in found]
            self.stdout.write(json.dumps(rows, ensure_ascii=False, indent=2))
            return
        if not found:
            self.stdout.write("No paper in force states more than the record supports.")
        for paper in found:
            for line in _lines(paper):
                self.stdout.write(line)


def _lines(paper: AffectedPaper) -> Iterator[str]:
    yield (
        f"{paper.number}  {paper.title}; purchaser {paper.customer_code or 'not named'}, tag"
        f" {paper.tag_code}, by {', '.join(paper.tests)}"
    )
    for one in paper.overstated:
        yield (
            f"  {one.quantity}: states {one.stated}, supported at most"
            f" {one.supported or 'what it is rated at anew'}"
        )
