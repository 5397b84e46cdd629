"""What the database refuses about decision rules, whichever way a row is written."""

import pytest

from certs.models import DecisionRule
from tests.certs.deciding import given_rule
from tests.inventory.models.ways import INSERTS, copy_of, refused_by

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("changes", "name"),
    [
        pytest.param({"name": "guard band of U"}, "decision_rule_name_once", id="the same name"),
        pytest.param({"multiple": ""}, "decision_rule_is_whole", id="a band of nothing"),
        pytest.param({"kind": "simple"}, "decision_rule_is_whole", id="simple with a band"),
        pytest.param(
            {"kind": "lenient", "multiple": ""}, "decision_rule_is_whole", id="no such kind"
        ),
        pytest.param({"paper": ""}, "decision_rule_has_a_paper", id="laid down nowhere"),
    ],
)
@pytest.mark.parametrize("insert", INSERTS)
def test_a_rule_is_whole(insert, changes, name):
    rule = given_rule()
    with refused_by(name):
        insert(copy_of(rule, **({"name": "another"} | changes)))


@pytest.mark.parametrize("insert", INSERTS)
def test_simple_acceptance_may_stand_beside_a_band(insert):
    insert(copy_of(given_rule(), name="another", kind="simple", multiple=""))
    assert DecisionRule.objects.count() == 2
