"""Derives the strength, mass and diameter limits of a rope from its designation, for scripts."""

import json
from decimal import Decimal
from typing import Any

from django.core.management.base import BaseCommand, CommandParser
from django.db import OperationalError, ProgrammingError

from certs.queries.derivation import Derivation, TablesNotLoaded, UnknownCombination, derive
from certs.rules.derived import Derived, Gap, plain
from certs.rules.tolerance import DiameterLimits
from inventory.rules.refusal import Refusal

CAUTION = (
    "A breaking force is not a working load. Local codes and a competent person decide what the"
    " rope may carry."
)


class Command(BaseCommand):
    """`manage.py derive "12 6x7-FC 1770 U sZ" [--table NAME] [--json]`."""

    help = "Derive minimum breaking force, length mass and diameter limits of a rope."
    requires_system_checks = ()  # it reads tables and serves nothing: scripts call it often

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the designation, and how to answer."""
        parser.add_argument("designation", help='such as "12 6x7-FC 1770 U sZ" (EN 12385-2)')
        parser.add_argument("--table", help='take the value printed in a table: "API Spec 9A"')
        parser.add_argument("--json", action="store_true", dest="as_json", help="print JSON")

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Print the derivation, or say on standard error why there is none and exit with 1."""
        try:
            found = _derive(options["designation"], options["table"])
        except Refusal as refusal:
            self.stderr.write(_refusal(refusal, as_json=options["as_json"]), self.style.ERROR)
            raise SystemExit(1) from refusal
        self.stdout.write(_as_json(found) if options["as_json"] else _as_text(found))


def _derive(designation: str, table: str | None) -> Derivation:
    try:
        return derive(designation, table)
    except (OperationalError, ProgrammingError) as missing:
        message = (
            "The database has no tables yet. Make them with: manage.py migrate; "
            "then manage.py load_specifications"
        )
        raise TablesNotLoaded(message) from missing


def _as_json(found: Derivation) -> str:
    """Write figures as JSON numbers with the very digits stated, all else as it stands."""
    force_kn = found.force_kn
    mass = None if isinstance(found.mass, Gap) else found.mass
    diameter = None if isinstance(found.diameter, Gap) else found.diameter
    answer = {
        "designation": found.designation.text,
        "assumed": sorted(found.designation.assumed),
        "breaking_force_kN": force_kn.stated,
        "unrounded_kN": force_kn.unrounded,
        "mass_kg_per_100m": mass.stated if mass else None,
        "diameter_min_mm": diameter.min_mm if diameter else None,
        "diameter_max_mm": diameter.max_mm if diameter else None,
        "breaking_force_as_printed": found.force.stated,
        "breaking_force_unit": found.force.unit,
        "basis": found.force.basis,
        "source": found.force.source.text,
        "is_provisional": force_kn.is_provisional,
        "gaps": [{"quantity": gap.quantity, "reason": gap.reason} for gap in found.gaps],
        "others": list(found.others),
        "derivation": {
            "force": force_kn.as_json(),
            "mass": mass.as_json() if mass else None,
            "diameter_min": diameter.lowest.as_json() if diameter else None,
            "diameter_max": diameter.highest.as_json() if diameter else None,
        },
        "caution": CAUTION,
    }
    lines = [f"  {json.dumps(key)}: {_value(value)}" for key, value in answer.items()]
    return "{\n" + ",\n".join(lines) + "\n}"


def _value(value: object) -> str:
    # The json module would pass a Decimal through a float, and 115.0 is not 115.
    if isinstance(value, Decimal):
        return plain(value)
    return json.dumps(value, ensure_ascii=False, indent=2).replace("\n", "\n  ")


def _as_text(found: Derivation) -> str:
    parts = [found.designation.text]
    if found.designation.assumed:
        parts.append(f"Assumed, not stated: {', '.join(sorted(found.designation.assumed))}")
    derived = (found.force_kn, *_derived(found.mass), *_derived(found.diameter))
    parts += ["\n".join(one.steps()) for one in derived]
    parts += [f"No value for {gap.quantity}: {gap.reason}" for gap in found.gaps]
    if found.others:
        parts.append("\n".join(("Also held, not used as not lower:", *found.others)))
    return "\n\n".join((*parts, CAUTION))


def _derived(part: Derived | DiameterLimits | Gap) -> tuple[Derived, ...]:
    match part:
        case Derived():
            return (part,)
        case DiameterLimits():
            return (part.lowest, part.highest)
        case _:
            return ()


def _refusal(refusal: Refusal, *, as_json: bool) -> str:
    known = refusal.known_nearby if isinstance(refusal, UnknownCombination) else ()
    if as_json:
        answer = {"error": refusal.message, "field": refusal.field, "known_nearby": list(known)}
        return json.dumps(answer, ensure_ascii=False, indent=2)
    return "\n".join((refusal.message, *(["Known nearby:"] if known else []), *known))
