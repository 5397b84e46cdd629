import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.backup_manifest import (
    FILES,
    KEYS,
    ROWS,
    Manifest,
    Part,
    UnfitBackup,
    manifest_text,
    read_manifest,
)

HASH = "ab" * 32
TABLE = Part("rows/inventory_reel.jsonl", HASH, 12, 3)
FILE = Part(f"files/evidence/ab/ab/{HASH}.pdf", HASH, 99)
KEY = Part("keys/log-2026.pem", HASH, 5)


def manifest(*parts, **more):
    return Manifest("2026-03-02T08:00:00+00:00", "sqlite", ("a.1",), 7, HASH, parts, **more)


def told(**changed):
    return json.loads(manifest_text(manifest(TABLE, FILE, KEY))) | changed


def test_parts_are_told_by_their_kind():
    held = manifest(TABLE, FILE, KEY)
    assert [held.of(kind) for kind in (ROWS, FILES, KEYS)] == [(TABLE,), (FILE,), (KEY,)]


@given(
    size=st.integers(0, 10**12),
    rows=st.integers(0, 10**9),
    missing=st.lists(st.text(st.characters(exclude_categories=["Cs"])), max_size=3),
)
def test_what_is_written_is_read_back(size, rows, missing):
    held = manifest(Part(TABLE.name, HASH, size, rows), FILE, missing=tuple(missing))
    assert read_manifest(manifest_text(held)) == held
    assert manifest_text(read_manifest(manifest_text(held))) == manifest_text(held)


@given(st.one_of(st.text(), st.binary()))
def test_whatever_is_no_list_is_refused(content):
    with pytest.raises(UnfitBackup):
        read_manifest(content)


@pytest.mark.parametrize(
    "name",
    [
        "files/../../escaped",
        "/etc/passwd",
        "files/evidence/ab/ab/short.pdf",
        "rows/a/b.jsonl",
        "keys/../settings.py",
        "keys/.hidden",
        "other/a",
        "rows",
        "",
    ],
)
def test_a_name_that_no_backup_holds_is_refused(name):
    with pytest.raises(UnfitBackup, match="holds nothing of the name"):
        read_manifest(manifest_text(manifest(Part(name, HASH, 1))))


def test_a_part_named_twice_is_refused():
    with pytest.raises(UnfitBackup, match="twice"):
        read_manifest(manifest_text(manifest(TABLE, TABLE)))


@pytest.mark.parametrize(
    "changed",
    [
        {"form": 2},
        {"parts": None},
        {"parts": [{"name": TABLE.name}]},
        {"parts": [{"name": TABLE.name, "sha256": "AB", "size_bytes": 1, "rows": 1}]},
        {"parts": [{"name": TABLE.name, "sha256": HASH, "size_bytes": "x", "rows": 1}]},
        {"journal_size": "many"},
        {"migrations": 3},
    ],
    ids=["a later form", "no parts", "a name alone", "no hash", "no size", "no count", "a number"],
)
def test_a_list_that_lacks_something_is_refused(changed):
    with pytest.raises(UnfitBackup):
        read_manifest(json.dumps(told(**changed)))
