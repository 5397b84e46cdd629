import stat

import pytest

from inventory.services.whole_file import whole_file


@pytest.fixture
def target(tmp_path):
    return tmp_path / "record.zip"


def test_what_was_written_stands_at_its_place_for_its_owner_only(target):
    with whole_file(target) as file:
        file.write(b"whole")
        assert not target.exists()
    assert target.read_bytes() == b"whole"
    assert stat.S_IMODE(target.stat().st_mode) == 0o600
    assert list(target.parent.iterdir()) == [target]


def test_a_failure_midway_leaves_what_was_there(target):
    target.write_bytes(b"before")
    with pytest.raises(TypeError, match="bytes"), whole_file(target) as file:
        file.writelines([b"half", None])
    assert target.read_bytes() == b"before"
    assert list(target.parent.iterdir()) == [target]


def test_a_folder_that_is_not_there_is_told(target):
    with pytest.raises(FileNotFoundError), whole_file(target.parent / "none" / "record.zip"):
        pass
