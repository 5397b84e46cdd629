"""A database and a storage of a test's own, for processes that really commit, fail or die.

    python -m tests.journeys.own_database SCRIPT ARGUMENTS

runs a script of this folder by hand, in a database that vanishes with it.
"""

import os
import sqlite3
import subprocess
import sys
import tempfile
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psycopg
from django.conf import settings

from tests.journeys.apart import OWN

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "certs.project.settings")

ROOT = Path(__file__).parent.parent.parent
SERVER = settings.DATABASES["default"]["ENGINE"].endswith("postgresql")


@contextmanager
def own_database(folder) -> Iterator[tuple[dict[str, str], object]]:
    """Migrate an empty database of the engine under test; give environment and a way to connect."""
    make = postgresql_database if SERVER else sqlite_file
    with make(folder) as (url, connect):
        yield migrated(url, folder), connect


def migrated(url, folder):
    environment = os.environ | {"DATABASE_URL": url, "STORAGE_ROOT": str(folder)}
    migrate = [sys.executable, "manage.py", "migrate", "--skip-checks", "-v0"]
    subprocess.run(migrate, cwd=ROOT, env=environment, check=True)
    return environment


@contextmanager
def sqlite_file(folder):
    path = folder / "own.sqlite3"
    yield f"sqlite:///{path}", lambda: sqlite3.connect(path)


@contextmanager
def postgresql_database(_folder):
    base, name = os.environ["DATABASE_URL"].rsplit("/", 1)[0], f"own_{uuid.uuid4().hex}"
    options = settings.DATABASES["default"]
    where = {"host": options["HOST"], "user": options["USER"], "password": options["PASSWORD"]}
    where |= {"port": options["PORT"]} if options["PORT"] else {}
    with psycopg.connect(dbname="postgres", autocommit=True, **where) as server:
        server.execute(f"CREATE DATABASE {name}")
        try:
            yield f"{base}/{name}", lambda: psycopg.connect(dbname=name, **where)
        finally:
            server.execute(f"DROP DATABASE {name} WITH (FORCE)")


def run_journey(environment, name, *arguments, **more):
    """Run a script of this folder in a process of its own; give what it printed."""
    command = [sys.executable, "-m", f"tests.journeys.{name}", *arguments]
    done = subprocess.run(
        command,
        cwd=ROOT,
        env=environment | {OWN: environment["DATABASE_URL"]} | more,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def rows(connect, sql):
    connection = connect()
    try:
        return connection.execute(sql).fetchall()
    finally:
        connection.close()


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as own_folder, own_database(Path(own_folder)) as (own, _):
        sys.stdout.write(run_journey(own, *sys.argv[1:]))
