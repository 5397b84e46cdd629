"""The record that is tampered with is made once; every test has it to itself, with its files.

Making it takes seconds, and each test changes it in a transaction that is rolled back, guards and
all; its files are copied for each test.
"""

import shutil
from copy import deepcopy

import pytest
from django.conf import settings as project_settings
from django.db import transaction
from django.test import override_settings

from certs.services.load_specifications import load_specifications
from tests.certs.claims import FOLDER
from tests.certs.queries.audit.world import ORIGIN, given_a_record


def storages(folder, settings):
    found = deepcopy(settings.STORAGES)
    found["default"]["OPTIONS"]["location"] = folder
    return found


@pytest.fixture(scope="module")
def made(django_db_setup, django_db_blocker, tmp_path_factory):
    folder = tmp_path_factory.mktemp("audited")
    with django_db_blocker.unblock(), transaction.atomic():
        with override_settings(STORAGES=storages(folder, project_settings), PUBLIC_ORIGIN=ORIGIN):
            load_specifications(folder=FOLDER)
            given_a_record()
        yield folder
        transaction.set_rollback(True)


@pytest.fixture
def record(made, db, settings, tmp_path):
    """A record with something of everything."""
    folder = shutil.copytree(made, tmp_path / "files")
    settings.STORAGES = storages(folder, settings)
    settings.PUBLIC_ORIGIN = ORIGIN
    return folder
