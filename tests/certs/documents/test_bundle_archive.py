import io
import json
import zipfile
from datetime import UTC, datetime
from hashlib import sha256

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.documents.bundle_archive import MANIFEST, BundleFile, write_bundle

AT = datetime(2026, 3, 2, 8, 30, 10, tzinfo=UTC)


def written(contents):
    out = io.BytesIO()
    files = (
        BundleFile(path, f"what {path} is", lambda content=content: content)
        for path, content in contents.items()
    )
    told = write_bundle(out, files, made_at=AT, about="a test")
    return told, out.getvalue()


@given(st.dictionaries(st.from_regex(r"[a-z]{1,8}\.(txt|pdf)", fullmatch=True), st.binary()))
def test_what_is_written_is_read_back_and_listed(contents):
    told, archive = written(contents)
    assert written(contents)[1] == archive
    with zipfile.ZipFile(io.BytesIO(archive)) as opened:
        read = {name: opened.read(name) for name in opened.namelist()}
    manifest = read.pop(MANIFEST)
    assert read == contents
    assert told.files == len(contents)
    assert told.manifest_sha256 == sha256(manifest).hexdigest()
    # The digest is computed by another path than the writer's: over what was read back.
    listed = {name: one["sha256"] for name, one in json.loads(manifest)["files"].items()}
    assert listed == {name: sha256(content).hexdigest() for name, content in read.items()}


def test_every_file_bears_the_moment_given_and_no_clock():
    with zipfile.ZipFile(io.BytesIO(written({"a.txt": b"a", "b.pdf": b"b"})[1])) as opened:
        assert {info.date_time for info in opened.infolist()} == {(2026, 3, 2, 8, 30, 10)}


def test_one_file_is_read_at_a_time():
    open_now, most = [], []

    def files():
        for number in range(5):
            open_now.append(number)
            most.append(len(open_now))
            yield BundleFile(f"{number}.txt", "", lambda: b"x" * 1000)
            open_now.pop()

    write_bundle(io.BytesIO(), files(), made_at=AT, about="")
    assert max(most) == 1


@pytest.mark.parametrize(
    "paths", [pytest.param(["a", "a"], id="twice"), pytest.param([MANIFEST], id="the manifest")]
)
def test_two_files_of_one_path_are_refused(paths):
    files = [BundleFile.of_text(path, "", "") for path in paths]
    with pytest.raises(ValueError, match="two files at"):
        write_bundle(io.BytesIO(), files, made_at=AT, about="")
