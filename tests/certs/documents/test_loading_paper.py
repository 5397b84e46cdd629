"""The loading and the retest on the report of a break, and papers of days before they were told."""

import json
from datetime import timedelta

import pytest

from certs.documents.certificate_pdf import certificate_html
from certs.services.record_tests import record_breaking_test
from inventory.rules.roles import Role
from tests.certs.claims import LOGS, given_basis, given_breaking_test, given_factor
from tests.certs.papers import given_breaking_draft, issued
from tests.factories import MOMENT, given_machine, given_mill_document, given_person, given_reel
from tests.factories import given_sample as sample_of

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]


@pytest.fixture
def reel():
    """12 mm 6x7-FC 1770: 84.6 kN in API Spec 9A, 26th ed 2011, Table C.1."""
    reel = given_reel(designation="12 6x7-FC 1770 B sZ", mill_document=given_mill_document())
    given_basis(reel, given_factor("6x7", "FC"))
    return reel


@pytest.fixture
def snapshot(reel):
    """The report of a retest whose log breaks at 88.9 kN, at 300 N/s above 80 % (make_logs.py)."""
    discounted = given_breaking_test(
        sample=sample_of(reel=reel), peak_n=80_000, break_distance_mm=10
    )
    test = record_breaking_test(
        sample=sample_of(reel=reel),
        machine=given_machine(),
        tested_at=MOMENT + timedelta(hours=1),
        peak_n=None,
        log=(LOGS / "break_12mm.csv").read_bytes(),
        temperature_c=20,
        free_length_mm=800,
        retest_of=discounted,
        by=given_person(Role.TEST_BENCH),
        at=MOMENT + timedelta(hours=1),
    )
    return json.loads(issued(given_breaking_draft(test)).snapshot)


def test_the_loading_is_printed_with_its_derivations(snapshot):
    html = " ".join(certificate_html(snapshot, is_site_copy=False).split())
    assert "Slow enough above 80 % (67.68 kN)." in html
    assert "ISO 3108:2017 allows 0.5 % above 80 %." in html
    assert "Greatest rate of loading above 80 % of the required force" in html
    assert "Slow part 70" in html


def test_the_snapshot_holds_the_loading_without_floats(snapshot):
    loading = snapshot["breaking_tests"][0]["loading"]
    assert loading["mark_n"] == 67_680
    assert float(loading["mean"]["stated"]) == pytest.approx(100 * 300 / 84_600, rel=0.02)
    assert not any(isinstance(value, float) for value in loading.values())


def test_the_retest_names_what_it_repeats(snapshot):
    html = certificate_html(snapshot, is_site_copy=False)
    repeated = snapshot["breaking_tests"][0]["retest_of"]
    assert repeated.startswith("BT-")
    assert f"{repeated}, which broke near a grip and was discounted" in html


def test_what_nobody_wrote_down_and_what_was_asked_for_is_printed(reel):
    test = given_breaking_test(
        sample=sample_of(reel=reel),
        peak_n=90_000,
        is_break_place_known=False,
        free_length_mm=800,
        free_length_asked_mm=700,
        free_length_source="order 7",
    )
    html = certificate_html(
        json.loads(issued(given_breaking_draft(test)).snapshot), is_site_copy=False
    )
    assert "not recorded: nobody wrote down where it broke" in html
    assert "asked for: 700 mm (order 7)" in html
    assert "Nobody wrote down where it broke: whether that was within 6 rope diameters" in html


def test_a_paper_of_earlier_days_is_printed_as_before(snapshot):
    for name in ("loading", "retest_of", "free_length_asked"):
        del snapshot["breaking_tests"][0][name]
    html = certificate_html(snapshot, is_site_copy=False)
    assert "<th>Loading</th>" not in html
    assert "Retest of" not in html
    assert "asked for:" not in html
