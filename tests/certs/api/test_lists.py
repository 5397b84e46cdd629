"""Every list of claims costs as many queries for three rows as for one, and comes in pages."""

from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from certs.models import AgreedSpecification, Representative
from certs.services.representatives import register_representative
from certs.services.specify import add_agreed_specification
from certs.services.tags import issue_tag
from inventory.rules.roles import Role
from tests.api import get
from tests.certs.claims import given_breaking_test, given_proof_test
from tests.certs.papers import (
    given_assembly_draft,
    given_certifiable_assembly,
    given_cut_length_draft,
    given_documented_reel,
    given_representative,
    issued,
)
from tests.certs.recalls import given_doubt, written
from tests.certs.sites import a_photograph, given_report
from tests.factories import (
    MOMENT,
    ROPE,
    given_customer,
    given_person,
    given_piece,
    given_sample,
)

pytestmark = pytest.mark.usefixtures("tables")


def agreement():
    add_agreed_specification(
        name=f"Agreed {AgreedSpecification.objects.count()}",
        edition="1",
        agreed_with=given_customer(),
        paper="Letter",
        designation=ROPE,
        force_n=90_000,
        by=given_person(),
        at=MOMENT,
    )


def entry():
    return register_representative(
        person=given_person(Role.INSPECTION_REPRESENTATIVE),
        capacity="manufacturer",
        organisation="Invented Stockist",
        is_independent=True,
        valid_from_date=date(2020, 1, 1 + Representative.objects.count()),
        by=given_person(Role.ADMINISTRATOR),
        at=MOMENT,
    )


def broken_sample():
    given_breaking_test(sample=given_sample(reel=given_documented_reel()), peak_n=110_000)


def papers():
    """An issued paper, and a draft with a representative."""
    issued(given_cut_length_draft())
    given_assembly_draft(given_certifiable_assembly(), first_validator=given_representative())


LISTS = {
    "agreed-specifications": agreement,
    "representatives": entry,
    "breaking-tests": broken_sample,
    "proof-tests": given_proof_test,
    "certificates": papers,
    "site-reports": lambda: given_report(photos=[a_photograph(), a_photograph()]),
    "recall-notices": lambda: written(given_doubt().hold),
    "tags": lambda: issue_tag(piece=given_piece(), by=given_person(), at=MOMENT),
}


@pytest.mark.parametrize("name", LISTS)
def test_three_rows_cost_what_one_costs(qa, name):
    LISTS[name]()
    with CaptureQueriesContext(connection) as first:
        few = get(qa, f"{name}/")["results"]
    LISTS[name]()
    LISTS[name]()
    with CaptureQueriesContext(connection) as second:
        more = get(qa, f"{name}/")["results"]
    assert len(second) == len(first)
    assert 0 < len(few) < len(more)


@pytest.mark.parametrize("name", ["specifications", "specifications/breaking-forces"])
def test_tables_come_in_pages(qa, name):
    page = get(qa, f"{name}/", limit=2, offset=1)
    assert page["results"] == get(qa, f"{name}/", limit=500)["results"][1:3]
    assert page["count"] > 2
