import pytest

from certs.rules.paper_advice import UNKNOWN, Now, State, what_to_do
from certs.rules.paper_check import Standing


@pytest.mark.parametrize(
    ("standing", "now", "words"),
    [
        pytest.param(Standing.GOOD, Now(State.IN_FORCE), "Compare codes", id="good"),
        pytest.param(
            Standing.NOT_IN_FORCE, Now(State.SUPERSEDED, "AT-2026-00002"),
            "ask for AT-2026-00002", id="superseded",
        ),
        pytest.param(
            Standing.NOT_IN_FORCE, Now(State.SUPERSEDED), "the paper that took its place",
            id="superseded by what nobody knows",
        ),
        pytest.param(
            Standing.NOT_IN_FORCE, Now(State.WITHDRAWN), "Nothing vouches", id="withdrawn"
        ),
        pytest.param(Standing.NOT_IN_FORCE, Now(State.IN_DOUBT), "out of use", id="in doubt"),
        pytest.param(Standing.NOT_PROVED, Now(State.IN_FORCE), "hand in the PDF", id="a code"),
        pytest.param(Standing.NOT_GENUINE, UNKNOWN, "Use nothing", id="not ours"),
    ],
)  # fmt: skip
def test_says_what_to_do(standing, now, words):
    assert words in what_to_do(standing, now)


@pytest.mark.parametrize("now", [Now(state) for state in State])
def test_what_is_not_genuine_is_not_to_be_used_whatever_the_record_says(now):
    assert what_to_do(Standing.NOT_GENUINE, now).startswith("Use nothing")


@pytest.mark.parametrize("standing", Standing)
@pytest.mark.parametrize("state", [s for s in State if s is not State.IN_FORCE])
def test_only_a_good_paper_in_force_leads_on_to_the_item(standing, state):
    if standing is not Standing.GOOD:
        assert "Compare codes" not in what_to_do(standing, Now(state))
