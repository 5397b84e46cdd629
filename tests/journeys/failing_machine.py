"""Issues certificates while the machine fails under it in one way after another; run by the test.

    python -m tests.journeys.own_database failing_machine

Each failure is a real one, met in a child process: a limit on the size of files (setrlimit), a
file where the folder should be, keys taken away, a record that another process has locked, and,
on PostgreSQL, a server that ends the connection in the middle of the act. Prints what was told
and what stood afterwards, as JSON.
"""

import json
import os
import resource
import sqlite3
import sys
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

from tests.journeys.apart import set_up

set_up()

import psycopg  # noqa: E402 -- Django first
from django.conf import settings  # noqa: E402
from django.db import connection, connections  # noqa: E402

from certs.models import Certificate  # noqa: E402
from certs.services.issue import issue_certificate  # noqa: E402
from certs.services.load_specifications import load_specifications  # noqa: E402
from inventory.models import Person  # noqa: E402
from inventory.rules.refusal import Refusal  # noqa: E402
from inventory.services.open_keys import forget_opened_keys  # noqa: E402
from inventory.services.trouble import trouble_of  # noqa: E402
from tests.certs.claims import FOLDER  # noqa: E402
from tests.certs.papers import given_cut_length_draft, issued  # noqa: E402
from tests.journeys.killed_issuer import standing  # noqa: E402

FILES = Path(settings.STORAGES["default"]["OPTIONS"]["location"])
IS_SERVER = connection.vendor == "postgresql"


def main():
    load_specifications(folder=FOLDER)
    issued(given_cut_length_draft())
    draft = given_cut_length_draft().draft_code
    before = standing()
    met = {name: {**_meet(draft, failure), **standing()} for name, failure in FAILURES.items()}
    told = _issue(draft)
    json.dump({"before": before, "met": met, "told": told, "after": standing()}, sys.stdout)


def _meet(draft, failure):
    connections.close_all()  # a connection must not be shared with a child
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        with failure():
            told = _issue(draft)
        os.write(writing, json.dumps(told).encode())
        os._exit(0)
    os.close(writing)
    with os.fdopen(reading) as answer:
        told = json.loads(answer.read() or "{}")
    os.waitpid(child, 0)
    return told | {"state": Certificate.objects.get(draft_code=draft).state}


def _issue(draft):
    """Issue it; tell what was said instead, and whether it is the machine's trouble."""
    try:
        paper = Certificate.objects.get(draft_code=draft)
        by = Person.objects.get(username="qa_officer")
        issue_certificate(certificate=paper, by=by, at=datetime.now(tz=UTC))  # noqa: TID251 -- now
    except Exception as error:  # noqa: BLE001 -- whatever it is, it is told
        trouble = trouble_of(error)
        if trouble is not None:
            return {"said": trouble.sentence, "is_trouble": True}
        if isinstance(error, Refusal):
            return {"said": error.message, "is_trouble": False}
        return {"said": f"unknown: {error!r}", "is_trouble": False}
    return {"said": "issued", "is_trouble": False}


@contextmanager
def no_room():
    """Files of more than 4 kB are refused by the system, as a full disk refuses them."""
    connection.ensure_connection()
    _, most = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (4096, most))
    yield
    resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))


@contextmanager
def no_folder():
    aside = FILES.rename(FILES.with_name("aside"))
    FILES.write_bytes(b"")
    yield
    FILES.unlink()
    aside.rename(FILES)


@contextmanager
def no_keys():
    """As a server meets it that starts anew: one that runs has opened its keys already."""
    aside = settings.KEYS_ROOT.rename(settings.KEYS_ROOT.with_name("keys-aside"))
    forget_opened_keys()
    yield
    aside.rename(settings.KEYS_ROOT)


@contextmanager
def locked():
    """Another process has begun to write and does not end."""
    if IS_SERVER:
        with _another() as other, connection.cursor() as cursor:
            other.execute("BEGIN")
            other.execute("SELECT * FROM inventory_journalhead FOR UPDATE")
            cursor.execute("SET lock_timeout = '300ms'")
            yield
        return
    other = sqlite3.connect(settings.DATABASES["default"]["NAME"], isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA busy_timeout = 300")
    yield
    other.close()


@contextmanager
def lost():
    """The server ends our connection when the journal is about to be written."""

    def end(execute, sql, parameters, many, context):
        if sql.startswith('INSERT INTO "inventory_journalentry"'):
            with _another() as other:
                pid = connection.connection.info.backend_pid
                other.execute("SELECT pg_terminate_backend(%s)", [pid])
        return execute(sql, parameters, many, context)

    with connection.execute_wrapper(end):
        yield


def _another():
    options = connection.get_connection_params()
    named = {key: options[key] for key in ("dbname", "user", "host", "port") if key in options}
    return psycopg.connect(**named, autocommit=True)


FAILURES = {"no room": no_room, "no folder": no_folder, "no keys": no_keys, "locked": locked}
if IS_SERVER:
    FAILURES["lost"] = lost


if __name__ == "__main__":
    main()
