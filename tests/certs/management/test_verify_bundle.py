"""`manage.py bundle`, then `manage.py verify`: as an auditor does it, and as a forger would."""

import io
import json
import zipfile

import pytest
from django.core.management import call_command

from tests.certs.claims import given_breaking_test, given_proof_test
from tests.certs.papers import given_assembly_draft, given_certifiable_assembly, issued
from tests.factories import given_delivery, given_hold, given_sample

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

# Nothing fails, and something cannot be said: the keys of the tests are for evaluation.
CANNOT_SAY = 3


@pytest.fixture
def archive(tmp_path, auditor):
    """The bundle of a tested and delivered sling, as the command writes it."""
    assembly = given_certifiable_assembly()
    given_proof_test(assembly=assembly)
    reel = assembly.piece_ties.get().piece.reel
    given_breaking_test(sample=given_sample(reel=reel), peak_n=120_000)
    issued(given_assembly_draft(assembly, kind="2.2"))
    given_delivery(assembly)
    given_hold(reel)
    path = tmp_path / "bundle.zip"
    call_command("bundle", assembly.code, str(path), by=auditor.username, stdout=io.StringIO())
    return path


@pytest.fixture
def folder(archive):
    path = archive.with_name("unpacked")
    with zipfile.ZipFile(archive) as opened:
        opened.extractall(path)
    return path


@pytest.fixture
def verify(capfd):
    def verify(path):
        capfd.readouterr()
        with pytest.raises(SystemExit) as end:
            call_command("verify", str(path), "--json")
        told = capfd.readouterr()
        return end.value.code, told.out and json.loads(told.out)["checks"], told.err

    return verify


def test_all_holds_of_archive_and_folder_but_that_evaluation_keys_vouch_for_nobody(
    archive, folder, verify
):
    for path in (archive, folder):
        code, checks, _ = verify(path)
        unlike = {(c["name"], c["verdict"]) for c in checks if c["verdict"] != "holds"}
        assert unlike == {("who vouches for the keys", "cannot say")}
        assert code == CANNOT_SAY
        names = {check["name"] for check in checks}
        assert {
            "list of files", "file as issued", "signature", "proof of the data",
            "record enclosed", "entry in the journal", "checkpoint of the journal",
        } <= names  # fmt: skip


def turned(data, at):
    return data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :]


def test_one_changed_byte_of_any_file_is_found_out_and_the_file_named(folder, verify):
    """The first, the middle and the last byte of every file that is in the bundle."""
    paths = [path for path in folder.rglob("*") if path.is_file()]
    assert len(paths) > 30
    for path in paths:
        name, data = path.relative_to(folder).as_posix(), path.read_bytes()
        for at in {0, len(data) // 2, len(data) - 1}:
            path.write_bytes(turned(data, at))
            code, checks, _ = verify(folder)
            failing = [c for c in checks if c["verdict"] == "fails"]
            told = " ".join(f"{c['subject']} {c['meaning']}" for c in failing)
            assert (code, name in told) == (1, True), (name, at)
        path.write_bytes(data)
    assert verify(folder)[0] == CANNOT_SAY


@pytest.mark.parametrize("change", ["lost", "added"])
def test_a_file_that_was_lost_or_added_is_named(folder, verify, change):
    path = folder / ("holds.json" if change == "lost" else "story/more.txt")
    path.unlink() if change == "lost" else path.write_bytes(b"more")
    code, checks, _ = verify(folder)
    (told,) = (c["meaning"] for c in checks if c["verdict"] == "fails")
    assert (code, path.relative_to(folder).as_posix() in told) == (1, True)


def test_every_byte_of_the_list_of_files_counts(folder, verify):
    path = folder / "MANIFEST.json"
    data = path.read_bytes()
    for at in range(0, len(data), len(data) // 97):
        path.write_bytes(turned(data, at))
        code, checks, _ = verify(folder)
        failing = {c["subject"] for c in checks if c["verdict"] == "fails"}
        assert (code, failing) == (1, {"MANIFEST.json"}), at


def test_a_damaged_archive_is_told_with_the_file_in_it(archive, verify):
    with zipfile.ZipFile(archive) as opened:
        infos = opened.infolist()
    data = archive.read_bytes()
    for info in infos:
        content_at = info.header_offset + 30 + len(info.filename.encode())
        archive.write_bytes(turned(data, content_at + info.compress_size // 2))
        code, checks, complaint = verify(archive)
        assert (code, checks) == (2, ""), info.filename
        assert f"{info.filename} in it is damaged" in complaint
