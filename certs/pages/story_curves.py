"""Decides which tests of a story are drawn small beside its tables: the last ones that count."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from certs.documents.curve_marks import marks_of
from certs.documents.load_curve import describe_curve, draw_load_curve
from certs.models import BreakingTest, ProofTest
from certs.pages.addresses import page_of
from certs.queries.bundle_rows import breaking_tests_of, proof_tests_of
from certs.queries.test_facts import breaking_test_facts, proof_test_facts
from certs.queries.trace_shapes import Story
from inventory.documents.svg import Drawing
from inventory.queries.kept_files import FileIsNotAsKept

MOST: Final = 4
"""As many curves are drawn; own choice. The table beside them leads to the others."""


@dataclass(frozen=True, slots=True)
class SmallCurve:
    """A test with its curve and that in words; with a problem there is no curve."""

    key: str
    title: str
    href: str
    drawing: Drawing | None
    words: str
    problem: str = ""


def curves_of(story: Story) -> list[SmallCurve]:
    """Draw the proof loads, then the broken samples, each the last first; reversed ones not."""
    rows = (*story["rope_tests"], *story["breaking_tests"], *story["proof_tests"])
    counted = {row["code"] for row in rows if not row["reversed_at"]}
    found: list[ProofTest | BreakingTest] = [
        *sorted(proof_tests_of(story), key=lambda test: test.tested_at, reverse=True),
        *sorted(breaking_tests_of(story), key=lambda test: test.tested_at, reverse=True),
    ]
    tests = [test for test in found if test.code in counted and test.log is not None]
    return list(_drawn(tests[:MOST]))


def _drawn(tests: list[ProofTest | BreakingTest]) -> Iterator[SmallCurve]:
    for test in tests:
        is_proof = isinstance(test, ProofTest)
        title = f"{'Proof load' if is_proof else 'Breaking force'} {test.code}"
        key, href = f"curve-{test.code}", page_of(test.code)
        try:
            facts = (
                proof_test_facts(test) if isinstance(test, ProofTest) else breaking_test_facts(test)
            )
        except FileIsNotAsKept as problem:
            yield SmallCurve(key, title, href, None, "", problem.message)
            continue
        samples = [(ms / 1000, float(force_n)) for ms, force_n in facts["curve"]]
        marks = marks_of(facts)
        curve = draw_load_curve(
            samples=samples, marks=marks, title=title, width=440, height=230, prefix=key
        )
        yield SmallCurve(key, title, href, curve, describe_curve(samples=samples, marks=marks))
