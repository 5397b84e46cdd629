"""States the tests of the wires of a rope as they go into a snapshot: JSON without floats."""

from typing import Any

from django.db.models import prefetch_related_objects

from certs.models import WireTest
from certs.queries.rope_tests import tests_on_rope
from certs.queries.test_facts import machine_facts
from certs.queries.wire_tests import RopeWireTest, route_from, wire_tests_on
from certs.rules.wire_force_findings import FORCE_TOPIC
from certs.rules.wire_grade import TOPIC as STRENGTHS_TOPIC
from certs.rules.wire_tests import Method
from inventory.models import Reel

Facts = dict[str, Any]


def wire_facts(reel: Reel) -> Facts | None:
    """State each wire test on a reel's rope, and where it stands; None where there is none.

    They stand beside the certified force and change nothing of it.
    """
    tests = wire_tests_on(reel)
    if not tests:
        return None
    prefetch_related_objects([one.test for one in tests], "wires")
    return {
        "tests": [_test(one) for one in tests],
        "route": route_from(tests, tests_on_rope(reel)).as_json(),
    }


def _test(one: RopeWireTest) -> Facts:
    test = one.test
    return {
        "code": test.code,
        "method": Method(test.method).number,
        "method_text": test.get_method_display(),
        "sample": test.sample.code if test.sample else "",
        "paper": test.paper,
        "tested_at": test.tested_at.isoformat(),
        "wires": len(test.wires.all()),
        "required_n": test.required_n,
        "sum_n": test.sum_n,
        "spinning_factor": test.spinning_factor,
        "spinning_source": test.spinning_source,
        "calculated_n": test.calculated_n,
        "outcome": test.outcome,
        "outcome_text": test.get_outcome_display(),
        "grade_outcome": test.grade_outcome,
        "grade_text": test.get_grade_outcome_display(),
        "supported_grade": test.supported_grade,
        "strengths": found_text(test, STRENGTHS_TOPIC),
        "force": found_text(test, FORCE_TOPIC),
        "derivations": _derived(test, FORCE_TOPIC),
        "machine": machine_facts(test.machine, test.calibration) if test.machine else None,
        "doubts": list(one.doubts),
    }


def found_text(test: WireTest, topic: str) -> str:
    """Give what a test found on a topic, as it was frozen; empty where it says nothing of it."""
    return next((str(one["text"]) for one in test.findings if one["topic"] == topic), "")


def _derived(test: WireTest, topic: str) -> list[Facts]:
    return next((one["derived"] for one in test.findings if one["topic"] == topic), [])
