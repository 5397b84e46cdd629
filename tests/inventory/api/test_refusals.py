import pytest
from rest_framework.exceptions import ParseError

from inventory.api.refusals import answer_refusal
from inventory.rules.refusal import Refusal
from inventory.services.authority import NotAllowed


@pytest.mark.parametrize(
    ("refusal", "status"),
    [
        pytest.param(Refusal("The record stands against it."), 409, id="the record"),
        pytest.param(Refusal("Too long.", field="note"), 400, id="an input"),
        pytest.param(NotAllowed("Not you."), 403, id="the role"),
    ],
)
def test_a_refusal_is_answered_in_its_own_words(refusal, status):
    answer = answer_refusal(refusal, {})
    assert answer.status_code == status
    assert answer.data == {"problem": refusal.message, "field": refusal.field}


def test_a_fault_of_form_keeps_the_shape_of_the_framework():
    answer = answer_refusal(ParseError("No JSON."), {})
    assert (answer.status_code, answer.data) == (400, {"detail": "No JSON."})


def test_a_fault_of_the_program_is_left_to_be_one():
    assert answer_refusal(RuntimeError("a fault"), {}) is None
