import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.derived import Source
from certs.rules.finding import Finding, Outcome, Verdict, against, disagreeing, overall

READ = Source("a standard", confidence="read")
REMEMBERED = Source("a standard", confidence="memory")
VERDICTS = st.lists(st.sampled_from(Verdict))


def finding(verdict, source=READ):
    return Finding("topic", verdict, "What was found.", "rule", source)


@pytest.mark.parametrize(
    ("verdicts", "outcome"),
    [
        pytest.param([], Outcome.CANNOT_SAY, id="nothing was compared"),
        pytest.param(["agree", "agree"], Outcome.AGREES, id="all agree"),
        pytest.param(["agree", "cannot_say"], Outcome.CANNOT_SAY, id="one cannot be said"),
        pytest.param(["cannot_say", "disagree", "agree"], Outcome.DISAGREES, id="one disagrees"),
    ],
)
def test_the_outcome_is_the_worst_finding(verdicts, outcome):
    assert overall(finding(Verdict(one)) for one in verdicts) == outcome


@given(VERDICTS)
def test_one_disagreement_more_never_betters_the_outcome(verdicts):
    found = [finding(one) for one in verdicts]
    assert overall([*found, finding(Verdict.DISAGREE)]) is Outcome.DISAGREES
    assert len(disagreeing(found)) == verdicts.count(Verdict.DISAGREE)


def test_memory_never_rejects():
    with pytest.raises(ValueError, match="may warn, not reject"):
        finding(Verdict.DISAGREE, REMEMBERED)
    assert against(is_met=False, is_provisional=True) is Verdict.CANNOT_SAY
    assert against(is_met=False, is_provisional=False) is Verdict.DISAGREE
    assert against(is_met=True, is_provisional=True) is Verdict.AGREE


def test_what_is_kept_says_verdict_rule_and_source_in_words():
    kept = finding(Verdict.CANNOT_SAY, REMEMBERED).as_json()
    assert (kept["verdict"], kept["verdict_text"]) == ("cannot_say", "cannot be said")
    assert (kept["rule"], kept["source_text"]) == ("rule", "a standard [from memory]")
    assert kept["is_provisional"] is True
