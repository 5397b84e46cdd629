"""Which tensile grade the wires of a rope support, and whether the marked one stands on them.

How wires are counted against a band is decided by `wire_bands`; what they sum up to, by
`wire_force`.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from certs.rules.derived import Derived, Given, Source, trimmed
from certs.rules.finding import Finding, Verdict
from certs.rules.rope_grade import WIRES_OUTSIDE, WireBand
from certs.rules.wire_bands import (
    Count,
    GradeOutcome,
    Sample,
    allowed_outside,
    count_outside,
    grade_outcome,
)
from certs.rules.wire_strength import Wire, in_wires, shown_strength, tensile_strength

TOPIC: Final = "Wire strengths"
SUPPORTED_TOPIC: Final = "Grade that the wires support"
FAILING_TOPIC: Final = "Failing wires by EN 12385-1"
EN_12385_1: Final = Source(
    name="EN 12385-1, rule for failing wires",
    confidence="gap",
    note="an older API rule lets 1, 3, 6, 9 or 12 wires by class be low, each by at most 10 %",
)


_VERDICTS: Final = {
    GradeOutcome.SUPPORTS: Verdict.AGREE,
    GradeOutcome.REFUTES: Verdict.DISAGREE,
    GradeOutcome.CANNOT_SAY: Verdict.CANNOT_SAY,
}


@dataclass(frozen=True, slots=True)
class WireGrade:
    """What the wires say of the grade; `supported` is the highest grade they meet, or empty."""

    outcome: GradeOutcome
    supported: str
    count: Count
    findings: tuple[Finding, ...]


def judge_grade(
    *, marked: str, sample: Sample, rows: Sequence[WireBand], grades: Iterable[str] = ()
) -> WireGrade:
    """Judge the marked grade, and find the highest of `grades` that the wires meet.

    `rows` are those of EN 10264-1. A grade that is a name has no band: of it the wires say nothing.
    """
    known = {grade for grade in (*grades, marked) if grade.isdecimal()}
    supported = highest_grade(known, sample=sample, rows=rows)
    count = count_outside(marked, sample=sample, rows=rows)
    outcome = grade_outcome(count, sample)
    findings = (
        _strength_finding(count, sample, outcome),
        _supported_finding(supported, marked, known),
        FAILING_RULE,
    )
    return WireGrade(outcome, supported, count, findings)


def highest_grade(grades: Iterable[str], *, sample: Sample, rows: Sequence[WireBand]) -> str:
    """Give the highest grade whose bands the wires meet; empty where they meet none."""
    for grade in sorted(grades, key=int, reverse=True):
        count = count_outside(grade, sample=sample, rows=rows)
        if grade_outcome(count, sample) is GradeOutcome.SUPPORTS:
            return grade
    return ""


def _strength_finding(count: Count, sample: Sample, outcome: GradeOutcome) -> Finding:
    allowed = allowed_outside(count.tested) if sample.may_be_outside else 0
    rule = WIRES_OUTSIDE.name if sample.may_be_outside else "before laying none may lie outside"
    text = (
        f"{len(count.outside)} of {in_wires(count.tested)} lie outside the band of grade"
        f" {count.grade}; {allowed} may ({rule})."
    )
    steel = (Given("steel", "steel of the wires, from their heats", sample.steel, ""),)
    return Finding(
        topic=TOPIC,
        verdict=_VERDICTS[outcome],
        text=" ".join((text, *count.gaps, *(_outside_text(wire, count) for wire in count.outside))),
        rule="band of EN 10264-1 by wire diameter: from the grade up",
        source=WIRES_OUTSIDE,
        given=(*(steel if sample.steel else ()), *_given_bands(count)),
        derived=tuple(_extremes(sample.judged)),
    )


def _given_bands(count: Count) -> list[Given]:
    found = []
    for wire, band in count.bands:
        size = f"wires of {trimmed(wire.diameter_mm)} mm"
        found.append(Given("lower", size, trimmed(band.lower_n_mm2), "N/mm²", band.source))
        found.append(Given("upper", size, trimmed(band.upper_n_mm2), "N/mm²", band.source))
    return list(dict.fromkeys(found))


def _extremes(wires: Sequence[Wire]) -> list[Derived]:
    if not wires:
        return []
    low, high = (choose(wires, key=lambda wire: wire.strength) for choose in (min, max))
    lowest = tensile_strength(low, name="lowest strength of a wire")
    return (
        [lowest]
        if low == high
        else [
            lowest,
            tensile_strength(high, name="highest strength of a wire"),
        ]
    )


def _outside_text(wire: Wire, count: Count) -> str:
    band = next(found for one, found in count.bands if one == wire)
    side = "below" if wire.strength < band.lower_n_mm2 else "above"
    tests = ", in test and retest" if wire.retest_force_mn is not None else ""
    return (
        f"A wire of {trimmed(wire.diameter_mm)} mm, {wire.layer}, has"
        f" {shown_strength(wire.strength)} N/mm²{tests}: {side} {trimmed(band.lower_n_mm2)} to"
        f" {trimmed(band.upper_n_mm2)} N/mm²."
    )


def _supported_finding(supported: str, marked: str, grades: Iterable[str]) -> Finding:
    looked = ", ".join(sorted(grades, key=int)) or "none"
    text = (
        f"The wires meet the bands of grade {supported}, the highest of those looked at: {looked}."
        if supported
        else f"The wires show no grade; looked at were: {looked}."
    )
    is_enough = bool(supported) and marked.isdecimal() and int(supported) >= int(marked)
    return Finding(
        topic=SUPPORTED_TOPIC,
        verdict=Verdict.AGREE if is_enough else Verdict.CANNOT_SAY,
        text=text,
        rule="the highest tabulated grade whose bands the wires meet",
        source=WIRES_OUTSIDE,
    )


FAILING_RULE: Final = Finding(
    topic=FAILING_TOPIC,
    verdict=Verdict.CANNOT_SAY,
    text=(
        "No value held: enter it from your copy of the standard. For information alone, an older"
        " API rule lets 1, 3, 6, 9 or 12 wires be low by class of rope, each by at most 10 %; it"
        " is not used here."
    ),
    rule="how many wires may fail, and by how much",
    source=EN_12385_1,
)
