"""Whatever the tests do, the record of whoever runs them stays as it is."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
UNBLOCKED = """
import django
django.setup()
import tests.conftest
from inventory.models import Person
Person.objects.count()
"""


def run(*words, **more):
    environment = {"DJANGO_SETTINGS_MODULE": "certs.project.settings", **os.environ, **more}
    return subprocess.run(
        [sys.executable, *words],
        cwd=ROOT,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )


def test_outside_of_a_test_that_asks_for_it_there_is_no_database():
    told = run("-c", UNBLOCKED).stderr
    assert "no such table" in told or "outside_of_a_test" in told


@pytest.mark.parametrize(
    "script",
    ["failing_machine", "killed_issuer", "small_record", "twenty_clients", "twenty_desks"],
)
def test_a_script_that_commits_runs_in_no_database_but_its_own(script):
    told = run("-m", f"tests.journeys.{script}", "1", "1")
    assert told.returncode == 1
    assert "own_database SCRIPT" in told.stderr
