"""Makes the keys that the house signs with: those that are missing, or the next of a purpose."""

from datetime import timedelta
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from certs.management.keeper import add_by, keeper
from certs.management.whole_number import whole_number
from inventory.models import SigningKey
from inventory.rules.refusal import Refusal
from inventory.rules.signing import Purpose
from inventory.services.keyring import ensure_keys, make_key


class Command(BaseCommand):
    """`manage.py make_keys [--purpose log|credential|paper|all] [--evaluation]`."""

    help = "Make evaluation keys where there are none; with --purpose, make the next key of one."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take what the next key is for; without that, only what is missing is made."""
        add_by(parser)
        parser.add_argument(
            "--purpose",
            choices=[*(purpose.value for purpose in Purpose), "all"],
            help="make the next key of this purpose, and retire the one before",
        )
        parser.add_argument(
            "--evaluation",
            action="store_true",
            help="the next key is for trying out, and every paper says so",
        )
        parser.add_argument(
            "--overlap-days",
            type=whole_number,
            default=30,
            help="how long the one before may sign beside it (checkpoints bear both signatures)",
        )

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Make them, and print each name."""
        by, at = keeper(options["by"]), timezone.now()
        try:
            if options["purpose"] is None:
                made = ensure_keys(by=by, at=at)
            else:
                made = [
                    make_key(
                        purpose,
                        is_evaluation=options["evaluation"],
                        by=by,
                        at=at,
                        overlap=timedelta(days=options["overlap_days"]),
                    )
                    for purpose in _purposes(options["purpose"])
                ]
        except Refusal as refusal:
            raise CommandError(refusal.message) from refusal
        for key in made:
            self.stdout.write(_line(key))
        if made:
            self.stdout.write(f"The private halves lie under {settings.KEYS_ROOT}: back them up.")
        else:
            self.stdout.write("There is a key for each purpose already.")


def _purposes(asked: str) -> list[Purpose]:
    return list(Purpose) if asked == "all" else [Purpose(asked)]


def _line(key: SigningKey) -> str:
    mark = ", for evaluation" if key.is_evaluation else ""
    return f"{key.name}: {key.get_purpose_display()}{mark}"
