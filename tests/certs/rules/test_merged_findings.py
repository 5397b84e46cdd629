import pytest

from certs.rules.derived import Source
from certs.rules.finding import Finding, Verdict
from certs.rules.merged_findings import merged

READ = Source("a text", "", "read")


def finding(text, verdict=Verdict.AGREE, topic="Clear rope"):
    return Finding(topic, verdict, text, "a rule", READ)


def texts(*findings):
    return [one.text for one in merged(findings)]


@pytest.mark.parametrize(
    ("given", "told"),
    [
        pytest.param(["P-1: 9 mm.", "P-2: 9 mm."], ["P-1; P-2: 9 mm."], id="alike"),
        pytest.param(["P-1: 9 mm.", "P-2: 8 mm."], ["P-1: 9 mm.", "P-2: 8 mm."], id="unlike"),
        pytest.param(["It bears well."], ["It bears well."], id="no-place"),
        pytest.param(["Open: a: b."], ["Open: a: b."], id="two-colons"),
        pytest.param([], [], id="none"),
    ],
)
def test_what_is_alike_is_told_once(given, told):
    assert texts(*(finding(text) for text in given)) == told


def test_another_verdict_or_topic_stays_apart():
    alike = [
        finding("P-1: 9 mm."),
        finding("P-2: 9 mm.", Verdict.CANNOT_SAY),
        finding("P-3: 9 mm.", topic="Eye"),
    ]
    assert len(merged(alike)) == 3
