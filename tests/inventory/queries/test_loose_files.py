import pytest

from inventory.queries.loose_files import loose_files
from inventory.services.files import keep_file
from tests.factories import MOMENT, pdf_bytes

pytestmark = pytest.mark.django_db


def test_a_storage_that_nobody_used_has_none(file_store):
    assert list(loose_files()) == []


def test_each_file_without_a_row_is_named_with_its_size(file_store):
    kept = keep_file(content=pdf_bytes(), name="a.pdf", at=MOMENT)
    beside = (file_store / kept.path).with_name("ff.csv")
    beside.write_bytes(b"12345")
    (found,) = loose_files()
    assert file_store / found.path == beside
    assert found.size_bytes == 5
    assert found.laid_down_at.timestamp() == pytest.approx(beside.stat().st_mtime)


def test_hundreds_are_looked_up_five_hundred_at_a_time(file_store, django_assert_num_queries):
    folder = file_store / "evidence" / "aa"
    folder.mkdir(parents=True)
    for n in range(501):
        (folder / f"{n}.pdf").write_bytes(b"x")
    with django_assert_num_queries(2):
        assert len(list(loose_files())) == 501
