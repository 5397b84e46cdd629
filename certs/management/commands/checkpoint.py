"""Signs the journal as it stands, for whoever keeps checkpoints outside the record."""

from typing import Any

from django.core.management.base import BaseCommand
from django.utils import timezone

from inventory.rules.refusal import Refusal
from inventory.services.checkpoint import make_checkpoint


class Command(BaseCommand):
    """`manage.py checkpoint`."""

    help = "Sign a checkpoint of the journal and print it; one that covers all entries is kept."

    def handle(self, *_args: Any, **_options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Print the note; exit with 1 where none can be signed."""
        try:
            made = make_checkpoint(at=timezone.now())
        except Refusal as refusal:
            self.stderr.write(refusal.message, self.style.ERROR)
            raise SystemExit(1) from refusal
        self.stdout.write(made.note, ending="")
