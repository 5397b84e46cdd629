from urllib.parse import quote

import pytest
from django.urls import reverse

from tests.certs.claims import given_basis, given_breaking_test, given_factor
from tests.factories import given_reel, given_sample

PEAKS_N = (101_000, 103_000, 104_000, 102_000, 105_000, 103_500)


@pytest.fixture
def reel(tables):
    reel = given_reel()
    given_basis(reel)
    return reel


def broken(reel, *peaks_n, **said):
    for peak_n in peaks_n:
        given_breaking_test(sample=given_sample(reel=reel), peak_n=peak_n, **said)


def page_of(reel):
    return reverse("certs:maker_record", args=[reel.mill.code, reel.designation])


def test_too_few_results_are_said_to_be_too_few(as_auditor, reel):
    broken(reel, 101_000)
    text = as_auditor.get(page_of(reel)).text
    assert "Not enough data: 1 test broke clear" in text
    assert "vary by chance" not in text
    assert "Lower tolerance limit" not in text
    assert "BT-00001" in text


def test_enough_results_give_chart_and_limit(as_auditor, reel):
    broken(reel, *PEAKS_N)
    text = as_auditor.get(page_of(reel)).text
    assert "<svg" in text
    assert "Lower tolerance limit" in text
    assert "T = m - k s" in text
    # k of six results, 95 % with 95 %: 3.7077 (tests/vectors/one_sided_tolerance_factors.csv).
    assert "3.7077" in text
    assert "A record of the past is no promise" in text


def test_share_and_confidence_can_be_chosen(as_auditor, reel):
    broken(reel, *PEAKS_N)
    asked = {"coverage": "0.90", "confidence": "0.99"}
    # NIST e-Handbook 7.2.6.3: 4.4111 for six results, 90 % with 99 %.
    assert "4.4111" in as_auditor.get(page_of(reel), asked).text


def test_risks_are_told_for_an_uncertainty(as_auditor, reel):
    broken(reel, *PEAKS_N)
    assert "Of a thousand reels like these" not in as_auditor.get(page_of(reel)).text
    text = as_auditor.get(page_of(reel), {"uncertainty_pct": "1"}).text
    assert "Of a thousand reels like these" in text


def test_an_uncertainty_that_swallows_the_spread_is_said_to(as_auditor, reel):
    broken(reel, *PEAKS_N)
    text = as_auditor.get(page_of(reel), {"uncertainty_pct": "20"}).text
    assert "nothing can be said of the spread" in text


@pytest.mark.parametrize("typed", ["-1", "much", "99"])
def test_what_cannot_be_an_uncertainty_is_refused(as_auditor, reel, typed):
    broken(reel, *PEAKS_N)
    answer = as_auditor.get(page_of(reel), {"uncertainty_pct": typed})
    assert answer.status_code == 200
    assert "field-error" in answer.text
    assert "Of a thousand" not in answer.text


def test_a_break_near_a_grip_is_flagged(as_auditor, reel):
    broken(reel, *PEAKS_N)
    broken(reel, 104_500, break_distance_mm=10)
    text = as_auditor.get(page_of(reel)).text
    assert "near a grip: at least this" in text
    assert "Approximate: no exact factor is held" in text


def test_the_list_leads_to_each_record(as_auditor, reel):
    broken(reel, *PEAKS_N)
    text = as_auditor.get(reverse("certs:maker_records")).text
    assert f'href="{page_of(reel)}"' in text
    assert "chart and limits" in text


def test_the_strength_of_a_reel_leads_to_the_record(as_auditor, reel):
    broken(reel, 101_000)
    text = as_auditor.get(reverse("certs:reel_strength", args=[reel.code])).text
    assert f'href="{page_of(reel)}"' in text


@pytest.mark.parametrize("designation", ["12 6x7-WSC 1770 U sZ", "nonsense", "3/16 in 7x7"])
def test_a_record_without_tests_is_not_found(as_auditor, reel, designation):
    path = f"/makers/{reel.mill.code}/{quote(designation)}/"
    assert as_auditor.get(path).status_code == 404


def test_a_size_in_inches_has_an_address(as_auditor, tables):
    reel = given_reel(designation="1/2 in 6x7-FC 1770 B sZ")
    given_basis(reel, given_factor("6x7", "FC"))
    broken(reel, 120_000)
    assert as_auditor.get(page_of(reel)).status_code == 200
