"""Renews the time stamps of sealed papers before they end; run it daily, it is harmless."""

from typing import Any

from django.core.management.base import BaseCommand, CommandParser
from django.utils import timezone

from certs.management.keeper import add_by, keeper
from certs.services.renew_paper import papers_due, renew_paper
from inventory.rules.refusal import Refusal


class Command(BaseCommand):
    """`manage.py renew_papers`."""

    help = "Put a later time stamp upon sealed papers before their last one ends."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take who acts."""
        add_by(parser)

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Renew each that is due; exit with 1 if one could not be."""
        by, at = keeper(options["by"]), timezone.now()
        due = list(papers_due(at=at))
        failed = 0
        for place, certificate in enumerate(due, start=1):
            told = f"{place} of {len(due)}: {certificate.number}"
            try:
                row = renew_paper(certificate=certificate, by=by, at=at)
            except Refusal as refusal:
                failed += 1
                self.stderr.write(f"{told}: {refusal.message}")
            else:
                self.stdout.write(f"{told}: good until {row.good_until:%Y-%m-%d}")
        self.stdout.write(f"{len(due) - failed} renewed, {failed} could not be.")
        if failed:
            raise SystemExit(1)
