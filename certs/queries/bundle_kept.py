"""Puts a kept file into a bundle, or the words that say why it is not there."""

import json
from typing import Any, Final

from certs.documents.bundle_archive import BundleFile
from inventory.models import StoredFile
from inventory.queries.kept_files import FileIsNotAsKept, read_file

PROBLEM: Final = ".problem.txt"
"""What follows the name of a file that could not be put in."""


def kept_file(place: str, what: str, stored: StoredFile) -> BundleFile:
    """Give a kept file at a place, to which its own ending is added."""
    path = f"{place}.{stored.path.rpartition('.')[2]}"
    try:
        content = read_file(stored)
    except FileIsNotAsKept as problem:
        return BundleFile.of_text(f"{path}{PROBLEM}", f"NOT IN IT: {what}", problem.message + "\n")
    return BundleFile(path, what, lambda: content)


def json_file(path: str, what: str, value: Any) -> BundleFile:  # noqa: ANN401 -- any JSON
    """Give a file of JSON, to be read by people as well."""
    text = json.dumps(value, ensure_ascii=False, indent=2, sort_keys=True) + "\n"
    return BundleFile.of_text(path, what, text)
