"""The table of roles written a second time, as a picture, by hand.

No standard gives this table; it is this project's own decision.
"""

import pytest

from inventory.rules.roles import ALLOWED, Act, Role, may

ROLES = (
    "stores",
    "test_bench",
    "qa_officer",
    "inspection_representative",
    "auditor",
    "administrator",
)

# Columns in the order of ROLES.
TABLE = """
read_record          x x x x x x
register_party       . . x . . x
change_party         . . x . . x
record_heat          x . x . . .
file_mill_document   x . x . . .
receive_reel         x . x . . .
move_reel            x . x . . .
cut_piece            x . x . . .
reverse_cut          . . x . . .
rewind_reel          x . x . . .
take_back_piece      x . x . . .
place_order          x . x . . .
receive_fittings     x . x . . .
build_assembly       x x x . . .
record_delivery      x . x . . .
place_hold           x x x x . .
release_hold         . . x . . .
register_machine     . . x . . x
record_calibration   . x x . . .
manage_people        . . . . . x
manage_keys          . . . . . x
"""

CASES = [
    pytest.param(role, act, mark == "x", id=f"{role}-{act}")
    for act, *marks in (line.split() for line in TABLE.strip().splitlines())
    for role, mark in zip(ROLES, marks, strict=True)
]


@pytest.mark.parametrize(("role", "act", "expected"), CASES)
def test_table_of_role_by_act(role, act, expected):
    assert may(Role(role), Act(act)) is expected


def test_the_picture_shows_every_role_and_every_act():
    shown = [tuple(case.values[:2]) for case in CASES]
    assert sorted(shown) == sorted((role.value, act.value) for role in Role for act in Act)


def test_every_act_is_named_by_its_value():
    assert [act.value for act in Act] == [act.name.lower() for act in Act]


def test_nobody_can_change_the_table():
    with pytest.raises(TypeError):
        ALLOWED[Act.CUT_PIECE] = frozenset(Role)
