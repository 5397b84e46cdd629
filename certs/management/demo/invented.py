"""Reads the invented data of the demonstration: tables with a heading, after lines of remark."""

import csv
from collections.abc import Iterator
from pathlib import Path

from django.conf import settings

FOLDER: Path = settings.ROOT / "fixtures" / "demo"


def rows_of(name: str) -> Iterator[dict[str, str]]:
    """Yield the rows of a table of the demonstration, such as "heats"."""
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(line for line in file if not line.startswith("#"))


def force_log(name: str) -> bytes:
    """Read a sample force log."""
    return (FOLDER / "logs" / name).read_bytes()
