"""A backup is whole to its last byte, or it is told that it is not."""

import hashlib
import zipfile

import pytest

from certs.rules.backup_manifest import Manifest, Part, UnfitBackup, manifest_text
from certs.services.backup_archive import opened_backup

NAME = "rows/inventory_reel.jsonl"
LINES = b'[1,"R-00001"]\n' * 9


@pytest.fixture
def backup(tmp_path):
    part = Part(NAME, hashlib.sha256(LINES).hexdigest(), len(LINES), 9)
    manifest = Manifest("2026-03-02T08:00:00+00:00", "sqlite", (), 0, "0" * 64, (part,))
    path = tmp_path / "record.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(NAME, LINES)
        archive.writestr("manifest.json", manifest_text(manifest))
    return path


def content_of(path):
    with opened_backup(path) as opened:
        return b"".join(opened.lines(opened.manifest.parts[0]))


def test_a_whole_one_is_read(backup):
    assert content_of(backup) == LINES


def test_with_any_byte_changed_it_reads_the_same_or_is_refused(backup, tmp_path):
    whole, refused = backup.read_bytes(), 0
    for place in range(len(whole)):
        changed = tmp_path / "changed.zip"
        changed.write_bytes(whole[:place] + bytes([whole[place] ^ 0xFF]) + whole[place + 1 :])
        try:
            assert content_of(changed) == LINES
        except UnfitBackup:
            refused += 1
    assert refused > len(LINES)


def test_what_goes_wrong_with_whoever_uses_it_is_no_fault_of_the_backup(backup):
    with pytest.raises(ValueError, match="his own"), opened_backup(backup):
        raise ValueError("his own")


def test_what_is_not_there_is_said(tmp_path):
    with pytest.raises(UnfitBackup, match="There is no file"):
        content_of(tmp_path / "none.zip")


def test_what_the_machine_cannot_read_is_not_called_damaged(tmp_path):
    with pytest.raises(IsADirectoryError):
        content_of(tmp_path)
