"""Puts the rows of a backup into empty tables, and reads them back before they stand.

The guards are down while the rows go in, in the transaction that puts them up again: at no moment
does anybody see rows without them. Whether the tables may take a backup is decided by the caller.
"""

import hashlib
from collections.abc import Iterator
from itertools import islice

from django.core.management.color import no_style
from django.db import DataError, IntegrityError, connection, models, transaction

from certs.models import claim_guards
from certs.queries.record_rows import columns, lines, tables, values_of
from certs.rules.backup_manifest import ROWS, Part, UnfitBackup
from certs.services.backup_archive import Backup
from inventory.models import ledger_guards
from inventory.models.guards import put_up, take_down
from inventory.services.locks import require_transaction

# What Django itself writes into empty tables: the backup's own rows take their place.
WRITTEN_BY_DJANGO = ("auth_permission", "django_content_type")
_GUARDS = (*ledger_guards.GUARDS, *claim_guards.GUARDS)
_AT_ONCE = 500


def put_rows(backup: Backup) -> None:
    """Put all rows in with the primary keys they had. Must run inside the caller's transaction.

    Raises:
        UnfitBackup: a constraint or a guard refuses the rows, or they read back as others.
    """
    require_transaction()
    parts = {part.name: part for part in backup.manifest.of(ROWS)}
    pairs = [(model, parts[f"{ROWS}/{model._meta.db_table}.jsonl"]) for model in tables()]
    take_down(connection, _GUARDS)
    try:
        with transaction.atomic():
            _insert_all(backup, pairs)
            put_up(connection, _GUARDS)
    except (IntegrityError, DataError) as error:
        said = " ".join(str(error).split())
        raise UnfitBackup(f"The database does not take the rows of this backup: {said}") from error
    for model, part in pairs:
        _read_back(model, part)


def _insert_all(backup: Backup, pairs: list[tuple[type[models.Model], Part]]) -> None:
    with connection.cursor() as cursor:
        for name in WRITTEN_BY_DJANGO:
            cursor.execute(f"DELETE FROM {_quoted(name)}")  # noqa: S608 -- a name from above
        for model, part in pairs:
            _insert(model, backup.lines(part))
        # References may point forward until here; guards stand on rows that are whole.
        connection.check_constraints()
        made = [model for model, _ in pairs]
        for statement in connection.ops.sequence_reset_sql(no_style(), made):
            cursor.execute(statement)


def _insert(model: type[models.Model], rows: Iterator[bytes]) -> None:
    """Insert past `save`, which would date rows anew; a few hundred at a time."""
    names = ", ".join(_quoted(str(column.column)) for column in columns(model))
    marks = ", ".join("%s" for _ in columns(model))
    table = _quoted(model._meta.db_table)
    statement = f"INSERT INTO {table} ({names}) VALUES ({marks})"  # noqa: S608 -- names of models
    with connection.cursor() as cursor:
        while some := list(islice(rows, _AT_ONCE)):
            cursor.executemany(statement, [values_of(model, line) for line in some])


def _read_back(model: type[models.Model], part: Part) -> None:
    digest, count = hashlib.sha256(), 0
    for line in lines(model):
        digest.update(line)
        count += 1
    if (digest.hexdigest(), count) != (part.sha256, part.rows):
        raise UnfitBackup(f"The rows of “{part.name}” did not come back as they were written.")


def _quoted(name: str) -> str:
    return connection.ops.quote_name(name)
