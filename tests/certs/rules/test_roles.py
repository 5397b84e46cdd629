"""The table of roles written a second time, as a picture, by hand.

No standard gives this table; it is this project's own decision.
"""

import pytest

from certs.rules.roles import ALLOWED, ClaimAct, may
from inventory.rules.roles import Role

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
add_specification         . . x . . .
name_basis                . . x . . .
check_reel                x . x . . .
read_reel                 x x x . . .
choose_decision_rule      . . x . . .
record_breaking_test      . x x . . .
record_proof_test         . x x . . .
record_wire_test          . x x . . .
reverse_test              . . x . . .
draft_certificate         . . x . . .
issue_certificate         . . x . . .
supersede_certificate     . . x . . .
withdraw_certificate      . . x . . .
issue_tag                 x . x . . .
revoke_tag                . . x . . .
register_representative   . . . . . x
validate_document         . . x x . .
renew_paper               . . x . . x
write_recall              . . x . . .
read_reports              . . x . x .
settle_report             . . x . . .
take_bundle               . . x . x .
set_letterhead            . . . . . x
"""

CASES = [
    pytest.param(role, act, mark == "x", id=f"{role}-{act}")
    for act, *marks in (line.split() for line in TABLE.strip().splitlines())
    for role, mark in zip(ROLES, marks, strict=True)
]


@pytest.mark.parametrize(("role", "act", "expected"), CASES)
def test_table_of_role_by_act(role, act, expected):
    assert may(Role(role), ClaimAct(act)) is expected


def test_the_picture_shows_every_role_and_every_act():
    shown = [tuple(case.values[:2]) for case in CASES]
    assert sorted(shown) == sorted((role.value, act.value) for role in Role for act in ClaimAct)


def test_every_act_is_named_by_its_value():
    assert [act.value for act in ClaimAct] == [act.name.lower() for act in ClaimAct]


def test_nobody_can_change_the_table():
    with pytest.raises(TypeError):
        ALLOWED[ClaimAct.ISSUE_TAG] = frozenset(Role)
