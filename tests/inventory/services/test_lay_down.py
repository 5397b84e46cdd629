import errno
import os
import stat
import threading
from pathlib import Path

import pytest

from inventory.services.lay_down import lay_down
from inventory.services.trouble import StorageTrouble

PATH = "evidence/aa/bb/aabb.pdf"


def files_in(folder):
    return sorted(p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file())


def test_bytes_lie_under_their_path_and_nothing_beside(file_store):
    lay_down(b"whole", path=PATH)
    assert files_in(file_store) == [PATH]
    assert (file_store / PATH).read_bytes() == b"whole"
    assert stat.S_IMODE((file_store / PATH).stat().st_mode) == 0o440


def test_bytes_that_are_there_are_made_young_and_not_written_again(file_store):
    lay_down(b"whole", path=PATH)
    before = (file_store / PATH).stat().st_ino
    os.utime(file_store / PATH, (0, 0))
    lay_down(b"whole", path=PATH)
    after = (file_store / PATH).stat()
    assert after.st_ino == before
    assert after.st_mtime > 0


def test_a_damaged_file_is_mended(file_store):
    lay_down(b"half", path=PATH)
    lay_down(b"whole", path=PATH)
    assert (file_store / PATH).read_bytes() == b"whole"


def test_bytes_are_forced_to_the_disk_before_they_get_their_name(file_store, monkeypatch):
    """POSIX: fsync of the file, rename, fsync of the folder (see also fsync(2), Notes)."""
    order = []
    fsync, replace = os.fsync, Path.replace

    def seen_fsync(number):
        order.append("folder" if stat.S_ISDIR(os.fstat(number).st_mode) else "file")
        fsync(number)

    def seen_replace(part, target):
        order.append("rename")
        return replace(part, target)

    monkeypatch.setattr(os, "fsync", seen_fsync)
    monkeypatch.setattr(Path, "replace", seen_replace)
    lay_down(b"whole", path=PATH)
    assert order[:3] == ["file", "rename", "folder"]
    # Of each folder that was made, its name too.
    assert order[3:] == ["folder"] * 4


@pytest.mark.parametrize("call", ["fsync", "open"])
@pytest.mark.parametrize(
    ("number", "told"),
    [
        (errno.ENOSPC, "no room left for files"),
        (errno.EDQUOT, "no room left for files"),
        (errno.EACCES, "cannot be written or read"),
        (errno.EROFS, "cannot be written or read"),
        (errno.EIO, "fails"),
    ],
    ids=["full", "over quota", "forbidden", "read-only", "broken"],
)
def test_a_storage_that_does_not_take_it_says_so_and_keeps_no_half(
    file_store, monkeypatch, call, number, told
):
    def fails(*_args, **_options):
        raise OSError(number, os.strerror(number))

    with monkeypatch.context() as patch:
        patch.setattr(*((os, "fsync") if call == "fsync" else (Path, "open")), fails)
        with pytest.raises(StorageTrouble, match=told) as refused:
            lay_down(b"whole", path=PATH)
    assert "Nothing of this was recorded" in refused.value.message
    assert files_in(file_store) == []


def test_a_file_where_the_folder_should_be_is_told(file_store):
    file_store.mkdir()
    (file_store / "evidence").write_bytes(b"")
    with pytest.raises(StorageTrouble, match="cannot be written"):
        lay_down(b"whole", path=PATH)


def test_many_writers_of_the_same_bytes_leave_one_whole_file(file_store):
    content = b"whole" * 100_000
    start = threading.Barrier(8)

    def write():
        start.wait()
        lay_down(content, path=PATH)

    writers = [threading.Thread(target=write) for _ in range(8)]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    assert files_in(file_store) == [PATH]
    assert (file_store / PATH).read_bytes() == content
