"""`make bench`: how much our work costs over a bare peer, as ratios taken in the same run.

Makes its own database in a temporary folder unless `DATABASE_URL` names an empty one. `QUICK=1`
takes fewer pairs. The table goes to the screen and, as JSON, to `.bench.json`.
"""

import io
import json
import os
import sys
import tempfile
from dataclasses import asdict
from pathlib import Path

import django
from django.core.management import call_command
from django.db import connection

QUICK_PAIRS = 20
PAIRS = 200


def main() -> None:
    """Prepare a database, measure, print the table and write it down."""
    with tempfile.TemporaryDirectory() as folder:
        os.environ["STORAGE_ROOT"] = folder
        os.environ.setdefault("DATABASE_URL", f"sqlite:///{folder}/bench.sqlite3")
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "certs.project.settings")
        django.setup()
        call_command("migrate", verbosity=0)
        call_command("load_specifications", stdout=io.StringIO())
        measure(pairs=QUICK_PAIRS if os.environ.get("QUICK") else PAIRS)


def measure(*, pairs: int) -> None:
    """Run every case and report it."""
    from tests.bench.cases import all_cases  # noqa: PLC0415 -- models need django.setup first

    sys.stdout.write(f"engine: {connection.vendor}; {pairs} pairs; ms are medians\n")
    sys.stdout.write(f"{'what':<34}{'ours':>10}{'peer':>10}{'ratio':>8}  quartiles     target\n")
    ratios = []
    for ratio in all_cases(pairs=pairs):
        ratios.append(asdict(ratio))
        sys.stdout.write(ratio.line() + "\n")
        sys.stdout.flush()
    report = {"engine": connection.vendor, "pairs": pairs, "ratios": ratios}
    Path(".bench.json").write_text(json.dumps(report, indent=1) + "\n")


if __name__ == "__main__":
    main()
