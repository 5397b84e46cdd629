import hashlib
from io import BytesIO

import pytest
from PIL import Image

from inventory.documents.upload import UnfitFile
from inventory.models import StoredFile
from inventory.queries.kept_files import FileIsNotAsKept, read_file
from inventory.services.files import CannotKeep, keep_file, keep_log, keep_made, write_file
from tests.factories import MOMENT, pdf_bytes

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("file_store")]


def png():
    buffer = BytesIO()
    Image.new("L", (3, 3)).save(buffer, "PNG")
    return buffer.getvalue()


def kept_paths(file_store):
    return [p for p in file_store.rglob("*") if p.is_file()]


@pytest.mark.parametrize(
    ("keep", "content", "media_type", "extension"),
    [
        (keep_file, pdf_bytes(), "application/pdf", "pdf"),
        (keep_file, png(), "image/png", "png"),
        (keep_log, b"t;F\n0;1\n", "text/csv", "csv"),
    ],
    ids=["PDF", "PNG", "log"],
)
def test_a_file_lies_under_its_hash(keep, content, media_type, extension, file_store):
    stored = keep(content=content, name="paper.bin", at=MOMENT)
    digest = hashlib.sha256(content).hexdigest()
    path = f"evidence/{digest[:2]}/{digest[2:4]}/{digest}.{extension}"
    assert (stored.sha256, stored.path, stored.media_type) == (digest, path, media_type)
    assert (stored.size_bytes, stored.name, stored.kept_at) == (len(content), "paper.bin", MOMENT)
    assert (file_store / path).read_bytes() == content == read_file(stored)


@pytest.mark.parametrize("media_type", ["application/pdf", "application/json"])
def test_what_we_make_is_kept_as_it_is(media_type):
    stored = keep_made(content=b"{}", name="a", media_type=media_type, at=MOMENT)
    assert (stored.media_type, read_file(stored)) == (media_type, b"{}")


@pytest.mark.parametrize(("content", "kind"), [(b"", "application/pdf"), (b"x", "text/html")])
def test_nothing_else_is_made_here(content, kind):
    with pytest.raises(CannotKeep):
        keep_made(content=content, name="a", media_type=kind, at=MOMENT)


def test_the_same_bytes_are_kept_once(file_store):
    first = keep_file(content=pdf_bytes(), name="one.pdf", at=MOMENT)
    assert keep_file(content=pdf_bytes(), name="two.pdf", at=MOMENT) == first
    assert StoredFile.objects.get().name == "one.pdf"
    assert len(kept_paths(file_store)) == 1


def test_bytes_that_were_written_without_a_row_are_found_in_their_place(file_store):
    write_file(content=pdf_bytes(), name="one.pdf")
    keep_file(content=pdf_bytes(), name="one.pdf", at=MOMENT)
    assert len(kept_paths(file_store)) == 1


def test_a_file_half_written_is_mended(file_store):
    path = file_store / write_file(content=pdf_bytes(), name="a.pdf").path
    path.chmod(0o600)
    path.write_bytes(pdf_bytes()[:10])
    stored = keep_file(content=pdf_bytes(), name="a.pdf", at=MOMENT)
    assert read_file(stored) == pdf_bytes()


def test_an_unfit_file_is_not_kept(file_store):
    with pytest.raises(UnfitFile):
        keep_file(content=b"<html>", name="a.pdf", at=MOMENT)
    assert not kept_paths(file_store)
    assert not StoredFile.objects.exists()


@pytest.mark.parametrize(
    ("given", "kept"),
    [
        ("../../etc/paper.pdf", "paper.pdf"),
        ("C:\\scans\\paper.pdf", "paper.pdf"),
        ("pa\nper\x00.pdf ", "paper.pdf"),
        ("n" * 300 + ".pdf", "n" * 196 + ".pdf"),
    ],
    ids=["folders", "another system's folders", "control signs", "long"],
)
def test_a_name_is_only_a_name(given, kept):
    assert keep_file(content=pdf_bytes(), name=given, at=MOMENT).name == kept


@pytest.mark.parametrize("name", ["", " ", "folder/"])
def test_a_file_without_a_name_is_refused(name):
    with pytest.raises(CannotKeep, match="Name"):
        keep_file(content=pdf_bytes(), name=name, at=MOMENT)


def test_a_changed_file_is_not_read(file_store):
    stored = keep_file(content=pdf_bytes(), name="a.pdf", at=MOMENT)
    (file_store / stored.path).chmod(0o600)
    (file_store / stored.path).write_bytes(pdf_bytes() + b" ")
    with pytest.raises(FileIsNotAsKept, match="not as it was kept"):
        read_file(stored)


def test_a_file_that_is_gone_is_said_to_be(file_store):
    stored = keep_file(content=pdf_bytes(), name="a.pdf", at=MOMENT)
    (file_store / stored.path).unlink()
    with pytest.raises(FileIsNotAsKept, match="gone"):
        read_file(stored)
