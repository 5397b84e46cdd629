"""Looks that every guard of the database stands, and still says what it was put up to say.

Whoever takes a guard down may put up one of the same name that refuses nothing.
"""

from collections.abc import Iterator

from django.db import connection

from certs.models import claim_guards
from certs.rules.disagreement import Disagreement, What
from inventory.models import ledger_guards
from inventory.models.guards import Guard, missing

GUARDS = (*ledger_guards.GUARDS, *claim_guards.GUARDS)
_BODY = "$$"


def guards_standing() -> Iterator[Disagreement]:
    """Compare what the database refuses with what it was told to refuse."""
    down = missing(connection, GUARDS)
    for name in down:
        yield Disagreement(What.GUARD, f"guard {name}", "it stands", "it is down")
    written = _written()
    for guard in GUARDS:
        if guard.name in down:
            continue
        for name, text in _told(guard):
            if name in written and written[name] != text:
                yield Disagreement(What.GUARD, f"guard {name}", "as it was put up", "another text")


def _told(guard: Guard) -> Iterator[tuple[str, str]]:
    """Give the name of each trigger or function of a guard with the text that it was given."""
    if connection.vendor == "postgresql":
        bodies = (s.split(_BODY)[1] for s in guard.postgresql if _BODY in s)
        yield from ((guard.name, body) for body in bodies)
        return
    for statement in guard.sqlite:
        # CREATE TRIGGER NAME …
        yield statement.split()[2], statement


def _written() -> dict[str, str]:
    if connection.vendor == "postgresql":
        query = (
            "SELECT proname, prosrc FROM pg_proc"
            " WHERE pronamespace = current_schema()::regnamespace"
        )
    else:
        query = "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"
    with connection.cursor() as cursor:
        cursor.execute(query)
        return {str(name): str(text) for name, text in cursor.fetchall()}
