"""Tells all that a suspect heat, stretch of a reel or fitting lot reaches."""

import json
from collections.abc import Mapping
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from certs.management.story_text import recall_text
from certs.queries.trace import recall_heat, recall_lot, recall_reel
from certs.queries.trace_find import CannotTrace
from certs.queries.trace_shapes import Recall
from inventory.models import FittingLot, Heat, Reel
from inventory.queries.find import find_thing, heats_of_number
from inventory.rules.refusal import Refusal
from inventory.rules.units import parse_length_mm


class Command(BaseCommand):
    """`manage.py recall --heat NUMBER [--mill CODE] | --reel R [--from M --to M] | --lot F`."""

    help = "List pieces, assemblies, certificates and customers that a heat, reel or lot reaches."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take exactly one suspect, and how to answer."""
        suspect = parser.add_mutually_exclusive_group(required=True)
        suspect.add_argument("--heat", help="the mill's number of the heat, or our code of it")
        suspect.add_argument("--reel", help="code of a reel")
        suspect.add_argument("--lot", help="code of a fitting lot")
        parser.add_argument("--mill", help="code of the mill, where two use the same heat number")
        parser.add_argument("--from", dest="from_m", help="first metre of the reel, such as 120.5")
        parser.add_argument("--to", dest="to_m", help="last metre")
        parser.add_argument("--json", action="store_true", dest="as_json", help="print JSON")

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Print what is reached, or say in one line why not and exit with 1."""
        try:
            recall = _recall(options)
        except Refusal as refusal:
            self.stderr.write(refusal.message, self.style.ERROR)
            raise SystemExit(1) from refusal
        as_json = json.dumps(recall, ensure_ascii=False, indent=2)
        self.stdout.write(as_json if options["as_json"] else recall_text(recall))


def _recall(options: Mapping[str, Any]) -> Recall:
    if options["mill"] and not options["heat"]:
        raise CannotTrace("A mill is named only with the number of a heat.")
    if (options["from_m"] or options["to_m"]) and not options["reel"]:
        raise CannotTrace("Metres are named only with a reel.")
    if options["heat"]:
        return recall_heat(_heat(options["heat"], mill=options["mill"] or ""))
    if options["lot"]:
        lot = find_thing(options["lot"])
        if not isinstance(lot, FittingLot):
            raise CannotTrace(f"No fitting lot has the code “{options['lot']}”.")
        return recall_lot(lot)
    return _reel_recall(options)


def _reel_recall(options: Mapping[str, Any]) -> Recall:
    reel = find_thing(options["reel"])
    if not isinstance(reel, Reel):
        raise CannotTrace(f"No reel has the code “{options['reel']}”.")
    return recall_reel(reel, from_mm=_metres(options["from_m"]), to_mm=_metres(options["to_m"]))


def _metres(text: str | None) -> int | None:
    return None if text is None else parse_length_mm(text)


def _heat(text: str, *, mill: str) -> Heat:
    """Find the one heat that is meant."""
    found = heats_of_number(text)
    named = find_thing(text)
    if not found and isinstance(named, Heat):
        found = [named]
    chosen = [heat for heat in found if mill.upper() in {"", heat.mill.code}]
    if len(chosen) == 1:
        return chosen[0]
    if chosen:
        choices = " or ".join(f"--mill {heat.mill.code} ({heat.mill.name})" for heat in chosen)
        raise CannotTrace(f"Several mills have a heat {text}: add {choices}.")
    at = f" of mill {mill}" if mill else ""
    raise CannotTrace(f"No heat has the number “{text}”{at}.")
