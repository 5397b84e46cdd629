import pytest
from django.urls import reverse

from certs.queries.evidence import reversal_of, supporting_proof_tests
from tests.certs.papers import given_assembly_draft, given_representative, issued


@pytest.fixture(params=["breaking", "proof"])
def test(request, claims):
    return getattr(claims, request.param)


def page(test):
    return reverse(
        "certs:proof_test" if hasattr(test, "assembly") else "certs:breaking_test", args=[test.code]
    )


def press(client, test, reason="typed twice"):
    return client.post(reverse("certs:reverse_test", args=[test.code]), {"reason": reason})


def test_a_reversed_test_says_so_on_its_page_and_in_the_list(as_quality, test):
    answer = press(as_quality, test)
    assert answer["Location"] == page(test)
    shown = as_quality.get(page(test)).text
    assert "It counts for nothing" in shown
    assert "typed twice" in shown
    assert "Reverse it" not in shown
    several = "proof_tests" if hasattr(test, "assembly") else "tests"
    assert "reversed" in as_quality.get(reverse(f"certs:{several}")).text


def test_the_story_tells_a_reversed_proof_load_as_reversed(as_quality, claims):
    press(as_quality, claims.proof)
    story = as_quality.get(reverse("certs:trace"), {"code": claims.assembly.code}).text
    assert "reversed" in story
    assert supporting_proof_tests(claims.assembly) == []


def test_a_test_under_a_certificate_in_force_stays_and_the_reason_stays_typed(as_quality, claims):
    paper = issued(given_assembly_draft(claims.assembly, first_validator=given_representative()))
    answer = press(as_quality, claims.proof, reason="the wrong log")
    assert answer.status_code == 200
    assert f"Certificate {paper.number} rests on" in answer.text
    assert "the wrong log" in answer.text
    assert reversal_of(claims.proof) is None


def test_only_the_qa_officer_is_offered_it(as_bench, as_quality, test):
    assert "Reverse it" in as_quality.get(page(test)).text
    assert "Reverse it" not in as_bench.get(page(test)).text
    assert press(as_bench, test).status_code == 403


def test_a_code_of_no_test_is_not_found(as_quality):
    assert as_quality.get(reverse("certs:reverse_test", args=["BT-99999"])).status_code == 404
