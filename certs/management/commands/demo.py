"""Fills an empty record with the invented demonstration, and prints how to look at it.

Running it again changes nothing and prints the same.
"""

import os
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import transaction

from certs.management.demo.cast import LOGINS
from certs.management.demo.invented import rows_of
from certs.management.demo.scenario import play
from certs.management.demo.tour import stops
from certs.models import Certificate
from certs.services.load_specifications import load_specifications
from inventory.models import CutPiece, Party, Person, Reel
from inventory.rules.refusal import Refusal

EVALUATION_KEY_PREFIX = "local-evaluation-key"
PASSWORD = "metre-by-metre"  # noqa: S105 -- printed for everyone; it protects nothing
NOTICE = "All of it is invented: no such firm, rope, test or certificate exists."


class Command(BaseCommand):
    """`manage.py demo [--yes]`; DEMO_PASSWORD sets the password of the logins."""

    help = "Fill an empty record with the invented demonstration. Harmless to repeat."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the consent that is needed where the key is not that of an evaluation."""
        parser.add_argument(
            "--yes",
            action="store_true",
            help="make the demonstration, with its known logins, also where SECRET_KEY is set",
        )

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Play the scenario in one transaction, unless it is there; then print the way in."""
        self._check_place(is_agreed=options["yes"])
        password = os.environ.get("DEMO_PASSWORD") or PASSWORD
        if _is_there():
            self.stdout.write(f"The demonstration is there already. {NOTICE}")
        elif Person.objects.exists() or Party.objects.exists():
            message = (
                "This record is in use, and not by the demonstration: give it a database of its"
                " own (DATABASE_URL, STORAGE_ROOT)."
            )
            raise CommandError(message)
        else:
            self._make(password)
        self._print_way_in(password)

    def _check_place(self, *, is_agreed: bool) -> None:
        """Refuse where strangers could sign in with a password that everyone knows."""
        if is_agreed or settings.SECRET_KEY.startswith(EVALUATION_KEY_PREFIX):
            return
        message = (
            "SECRET_KEY is set, so this may be in production: the demonstration would add logins"
            " with a known password. Add --yes if it is not."
        )
        raise CommandError(message)

    def _make(self, password: str) -> None:
        try:
            with transaction.atomic():
                load_specifications(folder=settings.ROOT / "fixtures" / "specification")
                play(password=password)
        except Refusal as refusal:
            raise CommandError(refusal.message) from refusal
        issued = Certificate.objects.exclude(state=Certificate.State.DRAFT).count()
        self.stdout.write(
            f"The demonstration is made: {Reel.objects.count()} reels,"
            f" {CutPiece.objects.count()} pieces, {issued} certificates. {NOTICE}"
        )

    def _print_way_in(self, password: str) -> None:
        self.stdout.write("\nLook at")
        for stop in stops():
            self.stdout.write(f"  {stop.address}  {stop.what}")
        admin = Person.objects.get(username="admin")
        known = password if admin.check_password(password) else "that was given when it was made"
        self.stdout.write(f"\nSign in with the password {known} as")
        for username, (full_name, role) in LOGINS.items():
            self.stdout.write(f"  {username:<10} {full_name}, {role.value.replace('_', ' ')}")


def _is_there() -> bool:
    """Tell whether the people and firms on record are those of the demonstration."""
    names = {row["name"] for row in rows_of("parties")}
    logins = Person.objects.filter(username__in=LOGINS).count()
    return logins == len(LOGINS) and Party.objects.filter(name__in=names).count() == len(names)
