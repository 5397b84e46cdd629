"""Fixtures for all tests: a fixed moment, one person of each role, files kept in a temporary place.

A transactional test ends with a flush, which the guards of the database refuse; they are taken
down for just that moment.
"""

import atexit
import shutil
import tempfile
from collections.abc import Iterator
from copy import deepcopy
from datetime import datetime
from pathlib import Path

import pytest
from django.conf import settings as project_settings
from django.db import connection
from django.test import Client, TransactionTestCase, override_settings

from certs.models.claim_guards import GUARDS as CLAIM_GUARDS
from inventory.models import Person
from inventory.models.guards import put_up, take_down
from inventory.models.ledger_guards import GUARDS as LEDGER_GUARDS
from inventory.rules.roles import Role
from tests import factories
from tests.clients import client_of

# WhiteNoise warns of a folder that is not there, and a warning fails a test.
project_settings.STATIC_ROOT.mkdir(parents=True, exist_ok=True)

# Outside of a test that asks for the database there is none, whoever unblocks it: pytest-django
# makes test databases only where a test collected asks for one, and the record of whoever runs the
# tests would be at hand otherwise.
DATABASE = project_settings.DATABASES["default"]
MEMORY = Path("/dev/shm")  # noqa: S108 -- the folder made in it is our own
if DATABASE["ENGINE"].endswith("sqlite3"):
    DATABASE["NAME"] = ":memory:"
    # A server that answers a browser has threads. Of a database in memory they would all share one
    # connection, and meet tables that another has locked; of a file, each has its own.
    FOLDER = tempfile.mkdtemp(prefix="tests-", dir=MEMORY if MEMORY.is_dir() else None)
    atexit.register(shutil.rmtree, FOLDER, ignore_errors=True)
    DATABASE["TEST"] = {"NAME": f"{FOLDER}/test.sqlite3"} | DATABASE.get("TEST", {})
else:
    DATABASE["TEST"] = {"NAME": f"test_{DATABASE['NAME']}"} | DATABASE.get("TEST", {})
    DATABASE["NAME"] = "outside_of_a_test"

ALL_GUARDS = (*LEDGER_GUARDS, *CLAIM_GUARDS)


def _storages(folder: Path) -> dict[str, dict[str, object]]:
    storages = deepcopy(project_settings.STORAGES)
    storages["default"]["OPTIONS"]["location"] = folder
    return storages


@pytest.fixture(scope="session", autouse=True)
def _settings_of_the_tests(tmp_path_factory) -> Iterator[None]:
    """Files go to a temporary folder; passwords are hashed fast, for they protect nothing here."""
    folder = tmp_path_factory.mktemp("files")
    with override_settings(
        STORAGES=_storages(folder),
        KEYS_ROOT=tmp_path_factory.mktemp("keys"),
        PASSWORD_HASHERS=["django.contrib.auth.hashers.MD5PasswordHasher"],
        # The tests of the second step ask for it; the tests of limits set their own.
        MFA_REQUIRED=False,
        RATE_LIMITS=dict.fromkeys(project_settings.RATE_LIMITS, "1000000/s"),
    ):
        yield


@pytest.fixture(scope="session", autouse=True)
def _flush_past_the_guards() -> Iterator[None]:
    flush = TransactionTestCase._fixture_teardown  # noqa: SLF001 -- Django has no public hook

    def flush_without_guards(case: TransactionTestCase) -> None:
        take_down(connection, ALL_GUARDS)
        try:
            flush(case)
        finally:
            put_up(connection, ALL_GUARDS)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(TransactionTestCase, "_fixture_teardown", flush_without_guards)
        yield


@pytest.fixture
def committed_db(transactional_db) -> None:
    """A database whose transactions really commit, for what a test inside one cannot see."""


@pytest.fixture
def file_store(tmp_path, settings) -> Path:
    """An empty storage of this test's own."""
    settings.STORAGES = _storages(tmp_path / "files")
    return tmp_path / "files"


@pytest.fixture
def moment() -> datetime:
    return factories.MOMENT


@pytest.fixture
def stores_hand(db) -> Person:
    return factories.given_person(Role.STORES)


@pytest.fixture
def bench_hand(db) -> Person:
    return factories.given_person(Role.TEST_BENCH)


@pytest.fixture
def qa_officer(db) -> Person:
    return factories.given_person(Role.QA_OFFICER)


@pytest.fixture
def representative(db) -> Person:
    return factories.given_person(Role.INSPECTION_REPRESENTATIVE)


@pytest.fixture
def auditor(db) -> Person:
    return factories.given_person(Role.AUDITOR)


@pytest.fixture
def administrator(db) -> Person:
    return factories.given_person(Role.ADMINISTRATOR)


@pytest.fixture
def as_stores(db) -> Client:
    return client_of(Role.STORES)


@pytest.fixture
def as_bench(db) -> Client:
    return client_of(Role.TEST_BENCH)


@pytest.fixture
def as_quality(db) -> Client:
    return client_of(Role.QA_OFFICER)


@pytest.fixture
def as_auditor(db) -> Client:
    return client_of(Role.AUDITOR)


@pytest.fixture
def as_administrator(db) -> Client:
    return client_of(Role.ADMINISTRATOR)
