"""Tells the tests of a bundle: facts and curve as on a paper, or why the log cannot be told."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

from certs.documents.curve_marks import marks_of
from certs.documents.load_curve import describe_curve, draw_load_curve
from certs.models import BreakingTest, ProofTest
from certs.queries.bundle_shapes import Bundled
from certs.queries.row_facts import person_told
from certs.queries.test_facts import breaking_test_facts, proof_test_facts
from inventory.documents.svg import Drawing
from inventory.queries.kept_files import FileIsNotAsKept

Facts = dict[str, Any]


@dataclass(frozen=True, slots=True)
class TestTold:
    """A test; without facts `problem` says why. `words` say what the curve shows."""

    test: BreakingTest | ProofTest
    kind: str
    facts: Facts | None
    problem: str = ""
    curve: Drawing | None = None
    words: str = ""
    reversed_at: str = ""

    __test__ = False  # its name begins with "Test", which pytest would collect


def tests_told(bundle: Bundled, *, with_names: bool) -> Iterator[TestTold]:
    """Yield the breaking tests, then the proof loads."""
    rows = (*bundle.story["rope_tests"], *bundle.story["breaking_tests"])
    taken_back = {row["code"]: row["reversed_at"] for row in rows}
    taken_back |= {row["code"]: row["reversed_at"] for row in bundle.story["proof_tests"]}
    for broken in bundle.breaking_tests:
        back = taken_back[broken.code]
        yield _told(
            broken,
            "Breaking-force test",
            partial(breaking_test_facts, broken),
            back,
            with_names=with_names,
        )
    for proof in bundle.proof_tests:
        back = taken_back[proof.code]
        yield _told(
            proof, "Proof-load test", partial(proof_test_facts, proof), back, with_names=with_names
        )


def _told(
    test: BreakingTest | ProofTest,
    kind: str,
    read_facts: Callable[[], Facts],
    reversed_at: str,
    *,
    with_names: bool,
) -> TestTold:
    try:
        facts = read_facts()
    except FileIsNotAsKept as problem:
        return TestTold(test, kind, None, problem.message, reversed_at=reversed_at)
    facts["tested_by"] = person_told(test.tested_by, with_names=with_names)
    if not facts["curve"]:
        return TestTold(test, kind, facts, reversed_at=reversed_at)
    samples = [(ms / 1000, float(force_n)) for ms, force_n in facts["curve"]]
    marks = marks_of(facts)
    title = f"Force over time, test {test.code}"
    drawn = draw_load_curve(samples=samples, marks=marks, title=title, prefix=test.code)
    words = describe_curve(samples=samples, marks=marks)
    return TestTold(test, kind, facts, curve=drawn, words=words, reversed_at=reversed_at)
