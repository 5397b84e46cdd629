"""What the database itself refuses, beyond what a constraint of one row can say.

Guards are triggers (and one exclusion constraint on PostgreSQL), written once per engine. They
stop mistakes, raw SQL and `bulk_create` alike; they do not stop the owner of the database, for
whom the journal's hash chain is there.

A refusal carries the guard's name, by which services tell one from another:
`guard NAME: sentence`.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db import models
from django.db.backends.base.base import BaseDatabaseWrapper


@dataclass(frozen=True, slots=True)
class Guard:
    """SQL that puts one guard up and takes it down, for both engines."""

    name: str
    postgresql: tuple[str, ...]
    sqlite: tuple[str, ...]
    postgresql_down: tuple[str, ...]
    sqlite_down: tuple[str, ...]


def put_up(connection: BaseDatabaseWrapper, guards: Iterable[Guard]) -> None:
    """Put up each guard on this connection's database; one that stands already is renewed."""
    guards = tuple(guards)
    take_down(connection, guards)
    for guard in guards:
        _run(connection, guard.postgresql if _is_postgresql(connection) else guard.sqlite)


def take_down(connection: BaseDatabaseWrapper, guards: Iterable[Guard]) -> None:
    """Take each guard down: only for migrations and for emptying a test database."""
    for guard in guards:
        down = guard.postgresql_down if _is_postgresql(connection) else guard.sqlite_down
        _run(connection, down)


def missing(connection: BaseDatabaseWrapper, guards: Iterable[Guard]) -> tuple[str, ...]:
    """Names of guards that do not stand on this connection's database."""
    if _is_postgresql(connection):
        query = (
            "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal AND tgenabled <> 'D' "
            "UNION SELECT conname FROM pg_constraint"
        )
    else:
        query = "SELECT name FROM sqlite_master WHERE type = 'trigger'"
    with connection.cursor() as cursor:
        cursor.execute(query)
        standing = {str(row[0]) for row in cursor.fetchall()}
    # Some guards are for one engine only.
    here = [g for g in guards if (g.postgresql if _is_postgresql(connection) else g.sqlite)]
    return tuple(g.name for g in here if not _stands(g.name, standing))


def _stands(name: str, standing: set[str]) -> bool:
    return name in standing or f"{name}_insert" in standing


def _is_postgresql(connection: BaseDatabaseWrapper) -> bool:
    return connection.vendor == "postgresql"


def _run(connection: BaseDatabaseWrapper, statements: Sequence[str]) -> None:
    with connection.cursor() as cursor:
        for statement in statements:
            # No parameters: otherwise the driver would read a % in PL/pgSQL as a placeholder.
            cursor.execute(statement, None)


def trigger(
    *, name: str, table: str, event: str, refuse_when: str, sentence: str, lock: str = ""
) -> Guard:
    """A guard that refuses `event` on `table` while `refuse_when` is true.

    `event` is "INSERT", "UPDATE" or "DELETE"; `refuse_when` may name NEW and OLD and must be
    valid SQL on both engines. `lock` is a statement that PostgreSQL runs first, so that a
    concurrent transaction cannot change what the condition reads.
    """
    text = f"guard {name}: {sentence}".replace("'", "''")
    back = "OLD" if event == "DELETE" else "NEW"
    function = f"""
        CREATE OR REPLACE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $$
        BEGIN
            {lock}
            IF {refuse_when} THEN
                RAISE EXCEPTION USING ERRCODE = 'integrity_constraint_violation',
                    MESSAGE = '{text}';
            END IF;
            RETURN {back};
        END $$"""
    return Guard(
        name=name,
        postgresql=(
            function,
            (
                f"CREATE TRIGGER {name} BEFORE {event} ON {table} "
                f"FOR EACH ROW EXECUTE FUNCTION {name}()"
            ),
        ),
        sqlite=(
            (
                f"CREATE TRIGGER {name} BEFORE {event} ON {table} FOR EACH ROW "
                f"WHEN {refuse_when} BEGIN SELECT RAISE(ABORT, '{text}'); END"
            ),
        ),
        postgresql_down=(
            f"DROP TRIGGER IF EXISTS {name} ON {table}",
            f"DROP FUNCTION IF EXISTS {name}()",
        ),
        sqlite_down=(f"DROP TRIGGER IF EXISTS {name}",),
    )


def keeps(model: type[models.Model], *, mutable: Sequence[str] = (), when: str = "") -> list[Guard]:
    """Guards by which rows of a model are never deleted, replaced or, but for `mutable`, changed.

    `mutable` are column names. `when` narrows the guard to rows whose OLD satisfies it.
    """
    table = model._meta.db_table
    columns = [f.column for f in model._meta.local_concrete_fields if f.column not in mutable]
    # Quoted, for a column may be called like a word of SQL: "end".
    changed = " OR ".join(f'OLD."{c}" IS DISTINCT FROM NEW."{c}"' for c in columns)
    condition = f"({when}) AND ({changed})" if when else f"({changed})"
    what = model._meta.verbose_name
    guards = [
        trigger(
            name=f"{table}_is_kept",
            table=table,
            event="UPDATE",
            refuse_when=condition,
            sentence=f"a {what} is never changed; record a new one that names it",
        ),
        trigger(
            name=f"{table}_is_never_deleted",
            table=table,
            event="DELETE",
            refuse_when=when or "1 = 1",
            sentence=f"a {what} is never deleted; record a new one that names it",
        ),
        _never_replaced(table=table, what=str(what)),
        _never_truncated(table=table, what=str(what)),
    ]
    return [_for_sqlite(g) for g in guards]


def _for_sqlite(guard: Guard) -> Guard:
    """SQLite before 3.39 has no IS DISTINCT FROM; IS NOT means the same there."""
    sqlite = tuple(s.replace("IS DISTINCT FROM", "IS NOT") for s in guard.sqlite)
    return Guard(guard.name, guard.postgresql, sqlite, guard.postgresql_down, guard.sqlite_down)


def _never_replaced(*, table: str, what: str) -> Guard:
    """SQLite's INSERT OR REPLACE deletes without a DELETE trigger unless a pragma is set."""
    name = f"{table}_is_never_replaced"
    text = f"guard {name}: a {what} of this key is recorded already"
    return Guard(
        name=name,
        # PostgreSQL has no such statement; the primary key stands for the guard.
        postgresql=(),
        sqlite=(
            (
                f"CREATE TRIGGER {name} BEFORE INSERT ON {table} FOR EACH ROW "
                f"WHEN NEW.id IS NOT NULL AND EXISTS (SELECT 1 FROM {table} WHERE id = NEW.id) "
                f"BEGIN SELECT RAISE(ABORT, '{text}'); END"
            ),
        ),
        postgresql_down=(),
        sqlite_down=(f"DROP TRIGGER IF EXISTS {name}",),
    )


def _never_truncated(*, table: str, what: str) -> Guard:
    name = f"{table}_is_never_emptied"
    text = f"guard {name}: the table of every {what} is never emptied"
    return Guard(
        name=name,
        postgresql=(
            (
                f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $$ "
                "BEGIN RAISE EXCEPTION USING ERRCODE = 'integrity_constraint_violation', "
                f"MESSAGE = '{text}'; END $$"
            ),
            (
                f"CREATE TRIGGER {name} BEFORE TRUNCATE ON {table} "
                f"FOR EACH STATEMENT EXECUTE FUNCTION {name}()"
            ),
        ),
        # SQLite has no TRUNCATE: every DELETE fires the row's guard.
        sqlite=(),
        postgresql_down=(
            f"DROP TRIGGER IF EXISTS {name} ON {table}",
            f"DROP FUNCTION IF EXISTS {name}()",
        ),
        sqlite_down=(),
    )
