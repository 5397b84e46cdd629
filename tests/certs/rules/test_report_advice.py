"""Common practice, no source: that each kind of report is told what cannot wait."""

import pytest

from certs.models import SiteReport
from certs.rules import report_advice
from certs.rules.report_advice import do_now


def test_the_kinds_are_those_of_the_record():
    named = {report_advice.DAMAGE, report_advice.FAILURE, report_advice.TAG, report_advice.OTHER}
    assert named == set(SiteReport.Kind.values)


@pytest.mark.parametrize("kind", ["damage", "failure", "other", "never heard of"])
def test_first_of_all_it_is_not_used(kind):
    assert do_now(kind)[0].startswith("Stop using it now")


@pytest.mark.parametrize("kind", SiteReport.Kind.values)
def test_a_competent_person_decides_in_the_end(kind):
    assert "competent person" in do_now(kind)[-1]


def test_where_it_broke_nothing_is_moved():
    assert any("Leave the place" in line for line in do_now("failure"))
    assert not any("Leave the place" in line for line in do_now("damage"))


def test_an_item_without_its_own_tag_is_an_unknown_item():
    assert "unknown item" in do_now("tag")[0]
