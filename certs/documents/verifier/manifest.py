"""Holds the files of a bundle against its list of files: nothing lost, changed or added on the way.

The list itself is signed by nobody: it finds accidents, and who means harm changes it as well.
"""

import hashlib
from collections.abc import Iterator, Sequence
from typing import Any

from certs.documents.verifier.answers import FAILS, HOLDS, Check, NotReadableError
from certs.documents.verifier.handed_in import MANIFEST, Named
from certs.documents.verifier.json_form import read_json

MOST_NAMED = 5


def check_manifests(files: Sequence[Named]) -> list[Check]:
    """Check every list of files that was handed in together with files."""
    lists = [named for named in files if named.name.split("/")[-1] == MANIFEST]
    return [Check(one.name, "list of files", *_compared(one, files)) for one in lists]


def _compared(manifest: Named, files: Sequence[Named]) -> tuple[str, str]:
    try:
        document = read_json(manifest.data)
        listed = dict(_listed(document))
    except NotReadableError as problem:
        return FAILS, f"The list cannot be read: {problem}."
    if not _is_whole(document, manifest.data):
        return FAILS, "The list itself was changed: it is not of the SHA-256 that stands in it."
    folder = manifest.name[: -len(MANIFEST)]
    there = {
        named.name[len(folder) :]: hashlib.sha256(named.data).hexdigest()
        for named in files
        if named.name.startswith(folder) and named.name != manifest.name
    }
    lost, added = sorted(listed.keys() - there.keys()), sorted(there.keys() - listed.keys())
    changed = sorted(name for name in listed.keys() & there.keys() if listed[name] != there[name])
    faults = [
        f"{word}: {_some(names)}"
        for word, names in (("missing", lost), ("changed", changed), ("not listed", added))
        if names
    ]
    if faults:
        return FAILS, "Files are not as listed. " + "; ".join(faults) + "."
    return HOLDS, f"All {len(listed)} files are there, each with the SHA-256 that is listed."


def _is_whole(document: Any, data: bytes) -> bool:  # noqa: ANN401 -- JSON of any shape
    """Tell whether the list has the hash that it states, reckoned with zeros in its place."""
    stated = str(document.get("own_sha256")).encode()
    zeroed = b"0" * len(stated)
    before, found, after = data.rpartition(stated)
    hashed = hashlib.sha256(before + zeroed + after).hexdigest().encode()
    return bool(found) and hashed == stated


def _listed(document: Any) -> Iterator[tuple[str, str]]:  # noqa: ANN401 -- JSON of any shape
    """Give names and hashes, from a mapping of them or from a list of both."""
    files = document.get("files") if isinstance(document, dict) else None
    if isinstance(files, dict):
        for name, told in files.items():
            yield str(name), str(told.get("sha256") if isinstance(told, dict) else told)
        return
    if not isinstance(files, list):
        raise NotReadableError("it names no files")
    for told in files:
        if not isinstance(told, dict):
            raise NotReadableError("it names no files")
        yield str(told.get("path") or told.get("name")), str(told.get("sha256"))


def _some(names: Sequence[str]) -> str:
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return ", ".join(names[:MOST_NAMED]) + more
