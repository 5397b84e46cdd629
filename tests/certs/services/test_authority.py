"""Every service of claims asks the table of roles first."""

import pytest

from certs.rules.roles import ClaimAct, may
from certs.services.authority import require
from inventory.rules.roles import Role
from inventory.services.authority import NotAllowed
from tests.factories import given_person

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("role", Role)
@pytest.mark.parametrize("act", ClaimAct)
def test_the_table_of_roles_decides(role, act):
    person = given_person(role)
    if may(role, act):
        require(by=person, act=act)
    else:
        with pytest.raises(NotAllowed, match="does not include"):
            require(by=person, act=act)


def test_a_person_who_has_left_may_nothing():
    officer = given_person(Role.QA_OFFICER)
    officer.is_active = False
    with pytest.raises(NotAllowed):
        require(by=officer, act=ClaimAct.NAME_BASIS)
