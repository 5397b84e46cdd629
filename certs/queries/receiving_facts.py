"""States the receiving checks behind a paper as they go into its snapshot: JSON without floats.

The paper has their summary; all that was found stays in the record of the check.
"""

from collections.abc import Iterator
from typing import Any

from certs.models import ReceivingCheck
from certs.queries.receiving_checks import check_standings, points
from certs.queries.subject import Subject
from certs.rules.finding import Verdict
from certs.rules.ladle_analysis import TOPIC as ANALYSIS
from certs.rules.measured_diameter import DIAMETER_TOPIC
from certs.rules.received_mass import DECLARED_TOPIC, WEIGHED_TOPIC

Facts = dict[str, Any]

_IN_FULL = (DIAMETER_TOPIC, WEIGHED_TOPIC, DECLARED_TOPIC)
_WORST_FIRST = (Verdict.DISAGREE, Verdict.CANNOT_SAY, Verdict.AGREE)


def receiving_facts(subject: Subject) -> list[Facts]:
    """State the last check of each mill's reel that the pieces came off, each reel once."""
    codes = (trace.ancestors[-1].reel_code for trace in subject.traces)
    return [_facts(one.check) for one in check_standings(codes) if one.check is not None]


def _facts(check: ReceivingCheck) -> Facts:
    return {
        "reel": check.reel.code,
        "check": check.code,
        "checked_at": check.checked_at.isoformat(timespec="seconds"),
        "standard": check.standard or (str(check.agreed) if check.agreed else ""),
        "outcome": check.outcome,
        "outcome_text": check.get_outcome_display(),
        "decision": _decision(check),
        "points": [*_in_full(check), *_analyses(check)],
        "disagree": points(check, Verdict.DISAGREE),
        "cannot_say": points(check, Verdict.CANNOT_SAY),
    }


def _decision(check: ReceivingCheck) -> str:
    """Name the hold that was released; its reason is for the record, as it may name anybody."""
    hold = check.hold
    if hold is None or hold.released_at is None:
        return ""
    return f"accepted by decision of the QA officer: hold {hold.code} was released"


def _in_full(check: ReceivingCheck) -> Iterator[Facts]:
    for finding in check.findings:
        if finding["topic"] in _IN_FULL:
            yield {
                "topic": finding["topic"],
                "verdict": finding["verdict"],
                "text": finding["text"],
                "source": finding["source_text"],
            }


def _analyses(check: ReceivingCheck) -> Iterator[Facts]:
    """Give one line for each heat: the worst of what its limits say."""
    found: dict[str, list[Facts]] = {}
    for finding in check.findings:
        if finding["topic"].startswith(ANALYSIS):
            found.setdefault(finding["topic"], []).append(finding)
    for topic, findings in found.items():
        worst = min(findings, key=lambda one: _WORST_FIRST.index(Verdict(one["verdict"])))
        yield {
            "topic": topic,
            "verdict": worst["verdict"],
            "text": worst["text"],
            "source": worst["source_text"],
        }
