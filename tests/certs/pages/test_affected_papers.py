"""Papers that state too much, retests that are due and the loading: seen where they matter."""

from datetime import timedelta

import pytest
from django.urls import reverse

from certs.services.record_tests import record_breaking_test
from inventory.rules.roles import Role
from tests.certs.claims import LOGS, given_breaking_test
from tests.certs.papers import given_cut_length_draft, given_documented_reel, issued
from tests.factories import MOMENT, given_machine, given_person, given_piece, given_sample

pytestmark = pytest.mark.usefixtures("tables")


@pytest.fixture
def reel():
    """12 mm 6x7-WSC 1770: 98.9 kN (K = 0.388, EN 12385-2)."""
    return given_documented_reel()


@pytest.fixture
def paper(reel):
    return issued(given_cut_length_draft(given_piece(reel=reel)))


def fail(reel):
    return given_breaking_test(sample=given_sample(reel=reel), peak_n=90_000)


def discount(reel):
    return given_breaking_test(sample=given_sample(reel=reel), peak_n=90_000, break_distance_mm=10)


def logged(reel, log=LOGS / "break_12mm.csv"):
    return record_breaking_test(
        sample=given_sample(reel=reel),
        machine=given_machine(),
        tested_at=MOMENT,
        peak_n=None,
        log=log.read_bytes(),
        by=given_person(Role.TEST_BENCH),
        at=MOMENT,
    )


def shown(client, name, *of):
    return client.get(reverse(f"certs:{name}", args=of)).text


def test_the_list_teaches_while_it_is_empty(as_auditor, paper):
    assert "No paper in force states too much" in shown(as_auditor, "affected_papers")


@pytest.mark.parametrize("where", ["list", "test", "reel", "today"])
def test_a_paper_that_states_too_much_is_seen(where, as_auditor, reel, paper):
    test = fail(reel)
    text = {
        "list": lambda: shown(as_auditor, "affected_papers"),
        "test": lambda: shown(as_auditor, "breaking_test", test.code),
        "reel": lambda: shown(as_auditor, "reel_strength", reel.code),
        "today": lambda: shown(as_auditor, "today"),
    }[where]()
    for told in (paper.number, paper.customer.code, "98.9 kN", "90 kN", test.code):
        assert told in text


def test_the_officer_finds_the_ways_to_act(as_quality, as_auditor, reel, paper):
    fail(reel)
    ways = [reverse(f"certs:{name}", args=[paper.number]) for name in ("correct", "withdraw")]
    assert all(way in shown(as_quality, "affected_papers") for way in ways)
    assert not any(way in shown(as_auditor, "affected_papers") for way in ways)


def test_a_test_that_passed_lists_no_papers(as_auditor, reel, paper):
    test = given_breaking_test(sample=given_sample(reel=reel), peak_n=99_000)
    assert "state more than the record" not in shown(as_auditor, "breaking_test", test.code)


def test_a_retest_that_is_due_is_offered_until_it_is_made(as_bench, reel):
    test = discount(reel)
    page = reverse("certs:record_breaking")
    asks = f"{page}?retest_of={test.code}"
    assert asks in shown(as_bench, "breaking_test", test.code)
    assert f'value="{test.code}" selected' in as_bench.get(asks).text
    later = {"tested_at": MOMENT + timedelta(hours=1), "retest_of": test}
    repeated = given_breaking_test(sample=given_sample(reel=reel), peak_n=99_000, **later)
    text = shown(as_bench, "breaking_test", test.code)
    assert asks not in text
    assert repeated.code in text
    assert test.code in shown(as_bench, "breaking_test", repeated.code)


def test_what_is_not_settled_is_told_on_the_reel_and_the_first_page(as_auditor, reel):
    test = discount(reel)
    text = shown(as_auditor, "reel_strength", reel.code)
    assert "open: a retest is due" in text
    assert "cut another sample from the same mill reel" in text
    first = shown(as_auditor, "today")
    assert "retest due" in first
    assert test.code in first


def test_the_loading_is_told_with_its_rates(as_auditor, reel):
    # fixtures/demo/make_logs.py: 300 N/s above 80 % of 84.6 kN, here against 98.9 kN.
    text = shown(as_auditor, "breaking_test", logged(reel).code)
    assert '<h2 id="loading-title">Loading</h2>' in text
    assert "Slow part, greatest rate" in text
    assert "80 %: 79.12 kN" in text
    assert "slow part" in text


def test_without_a_log_no_loading_is_told(as_auditor, reel):
    test = fail(reel)
    text = shown(as_auditor, "breaking_test", test.code)
    assert "loading-title" not in text
    assert "No force log shows how fast the load rose" in text


def test_a_test_is_recorded_as_a_retest_with_a_free_length_asked_for(as_bench, reel):
    test = discount(reel)
    said = {
        "sample": given_sample(reel=reel).code,
        "machine": given_machine().pk,
        "tested_at": "2026-03-03T10:00",
        "peak_n": "99 kN",
        "free_length_mm": "800",
        "free_length_asked_mm": "900",
        "free_length_source": "order 7",
        "temperature_c": "20",
        "retest_of": test.code,
        "break_place": "clear",
    }
    answer = as_bench.post(reverse("certs:record_breaking"), said, follow=True)
    assert test.code in answer.text
    assert "The free length was 800 mm; 900 mm is asked for: order 7." in answer.text
    assert "Free length asked for" in answer.text


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"free_length_source": ""}, "Say what asks for this free length"),
        ({"free_length_asked_mm": ""}, "Give the free length that is asked for"),
    ],
)
def test_half_of_what_is_asked_for_is_refused(as_bench, reel, changed, words):
    said = {
        "sample": given_sample(reel=reel).code,
        "machine": given_machine().pk,
        "tested_at": "2026-03-03T10:00",
        "peak_n": "99 kN",
        "free_length_asked_mm": "900",
        "free_length_source": "order 7",
        "break_place": "clear",
    }
    assert words in as_bench.post(reverse("certs:record_breaking"), said | changed).text
