"""Renews the time stamps of sealed papers before they end; run it daily, it is harmless."""

from typing import Any

from django.core.management.base import BaseCommand, CommandParser
from django.utils import timezone

from certs.management.keeper import add_by, keeper
from certs.services.renew_paper import papers_due, renew_paper
from inventory.rules.refusal import Refusal


class Command(BaseCommand):
    """`manage.py renew_papers`."""

    help = "Put a later time stamp upon sealed papers whose last one ends within 90 days."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take who acts."""
        add_by(parser)

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Renew each that is due; exit with 1 if one could not be."""
        by, at = keeper(options["by"]), timezone.now()
        failed = renewed = 0
        for certificate in list(papers_due(at=at)):
            try:
                row = renew_paper(certificate=certificate, by=by, at=at)
            except Refusal as refusal:
                failed += 1
                self.stderr.write(f"{certificate.number}: {refusal.message}")
            else:
                renewed += 1
                self.stdout.write(f"{certificate.number}: good until {row.good_until:%Y-%m-%d}")
        self.stdout.write(f"{renewed} renewed, {failed} could not be.")
        if failed:
            raise SystemExit(1)
