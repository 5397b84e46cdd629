"""What a telephone can be made to call or write to.

Numbers are those kept free for invented people (Ofcom's for drama, NANP 555-01xx), the addresses
those of RFC 2606; `tel:` is written as RFC 3966 has it, without spaces and strokes.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.contact_lines import contact_lines


@pytest.mark.parametrize(
    ("line", "pressed", "address"),
    [
        pytest.param("+44 1632 960 001", "+44 1632 960 001", "tel:+441632960001", id="abroad"),
        pytest.param(
            "Works: +44 (0)1632 960002", "+44 (0)1632 960002", "tel:+441632960002", id="a nought"
        ),
        pytest.param("(212) 555-0100", "(212) 555-0100", "tel:2125550100", id="in brackets"),
        pytest.param("Night 01632/960003.", "01632/960003", "tel:01632960003", id="a stroke"),
        pytest.param(
            "ropes@yard.example", "ropes@yard.example", "mailto:ropes@yard.example", id="mail"
        ),
        pytest.param(
            "Write to <qa@yard.example>",
            "qa@yard.example",
            "mailto:qa@yard.example",
            id="in angles",
        ),
        pytest.param("Fax +44 1632 960004", "", "", id="a fax answers nobody"),
        pytest.param("https://yard.example/1632960005", "", "", id="a page"),
        pytest.param("Gate 3, 7 to 16 h", "", "", id="too few digits"),
        pytest.param("Account 0000 0000 0000 0000", "", "", id="more digits than E.164 has"),
        pytest.param("Ask for the foreman", "", "", id="words"),
    ],
)
def test_a_line_is_read(line, pressed, address):
    (found,) = contact_lines(line)
    assert (found.pressed, found.address) == (pressed, address)
    assert found.before + found.pressed + found.after == line


def test_a_number_beside_a_date_is_the_one_that_is_called():
    (found,) = contact_lines("Since 1998: 01632 960006")
    assert found.address == "tel:01632960006"


def test_empty_lines_are_left_out():
    assert [one.before for one in contact_lines("one\n\n  two  \n")] == ["one", "two"]


@given(st.text())
def test_no_line_loses_a_sign_and_nothing_but_two_kinds_is_called(text):
    for line, found in zip(
        [one.strip() for one in text.splitlines() if one.strip()], contact_lines(text), strict=True
    ):
        assert found.before + found.pressed + found.after == line
        assert not found.address or found.address.startswith(("tel:", "mailto:"))
