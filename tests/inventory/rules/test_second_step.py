import pytest
from hypothesis import given
from hypothesis import strategies as draw

from inventory.rules.roles import Role
from inventory.rules.second_step import (
    NEEDED_BY,
    folded,
    is_recovery_code,
    kept_form,
    recovery_code,
)


def test_it_is_needed_by_who_issues_validates_or_keeps_accounts():
    assert {Role.QA_OFFICER, Role.INSPECTION_REPRESENTATIVE, Role.ADMINISTRATOR} == NEEDED_BY


def test_a_recovery_code_is_base_32():
    # RFC 4648, clause 10: the encoding of "foobar" begins MZXW6YTBO.
    assert recovery_code(b"foobarfoobarfoo").startswith("MZXW-6YTB-O")


@pytest.mark.parametrize("count", [0, 14, 16])
def test_it_is_made_of_fifteen_bytes(count):
    with pytest.raises(ValueError, match="15 bytes"):
        recovery_code(bytes(count))


@given(draw.binary(min_size=15, max_size=15))
def test_a_code_is_read_however_it_is_typed(random):
    code = recovery_code(random)
    for typed in (code, code.lower(), code.replace("-", " "), f" {code} ", code.replace("O", "0"),
                  code.replace("I", "1"), code.replace("B", "8")):  # fmt: skip
        assert is_recovery_code(typed)
        assert kept_form(typed) == kept_form(code)
    assert len(kept_form(code)) == 16
    assert kept_form(code) not in folded(code)


@pytest.mark.parametrize("typed", ["", "123456", "MZXW-6YTB"])
def test_six_digits_are_no_recovery_code(typed):
    assert not is_recovery_code(typed)
