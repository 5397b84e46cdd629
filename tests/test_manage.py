"""The command line, run as a person runs it."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

MANAGE = Path(__file__).parents[1] / "manage.py"


@pytest.mark.parametrize("command", [["trace", "P-1"], ["put_up_guards"]], ids=" ".join)
def test_a_database_without_tables_is_told_in_one_line(command, tmp_path):
    environment = os.environ | {"DATABASE_URL": f"sqlite:///{tmp_path / 'empty.sqlite3'}"}
    called = [sys.executable, str(MANAGE), *command]
    ran = subprocess.run(called, env=environment, capture_output=True, text=True, check=False)
    assert ran.returncode == 1
    assert "Traceback" not in ran.stderr
    assert ran.stderr.splitlines()[-1].endswith("manage.py migrate")


def test_a_reader_who_has_read_enough_is_told_nothing():
    called = [sys.executable, str(MANAGE), "diffsettings", "--all"]
    with subprocess.Popen(called, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as ran:
        ran.stdout.close()
        assert ran.stderr.read() == ""
