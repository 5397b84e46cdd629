"""Puts up the guards of the database again, after a table was rebuilt or restored without them."""

from typing import Any

from django.core.management.base import BaseCommand
from django.db import connection, transaction

from certs.models import claim_guards
from inventory.models import ledger_guards
from inventory.models.guards import missing, put_up


class Command(BaseCommand):
    """Put up what is missing and say what it was."""

    help = "Puts up the guards by which the database refuses to change what is on record."

    def handle(self, *_args: Any, **_options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Renew every guard in one transaction; running it twice changes nothing."""
        guards = (*ledger_guards.GUARDS, *claim_guards.GUARDS)
        with transaction.atomic():
            down = missing(connection, guards)
            put_up(connection, guards)
        for name in down:
            self.stdout.write(f"{name} was down and stands again.")
        if not down:
            self.stdout.write("Every guard stood already.")
