"""Which tensile grade may be stated of a rope, and on what evidence.

The marked grade stands if a measured breaking force supports it; without one the wires decide;
without either it is stated as the maker's word and no more. A US grade name is never converted:
what sources say of it is information.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from certs.rules.rope_grade import ForceEvidence, GradeName, grade_information, grade_supported
from inventory.rules.canonical import JsonValue

RULE = "ISO 10425:2003 (API Spec 9A) 5.1.4, as read: a failed rope loses its grade or is de-rated"


class GradeStanding(StrEnum):
    """How far the record stands behind a grade."""

    SUPPORTED = "supported"
    AS_MARKED = "as_marked"
    REFUTED = "refuted"
    CONTRADICTED = "contradicted"


@dataclass(frozen=True, slots=True)
class MeasuredForce:
    """The lowest breaking force that counts, the test it was found in, and what the grade asks."""

    test: str
    evidence: ForceEvidence


@dataclass(frozen=True, slots=True)
class WireWord:
    """What one test of the wires says of the marked grade, in words that name the test."""

    test: str
    is_supported: bool
    text: str


@dataclass(frozen=True, slots=True)
class GradeClaim:
    """A grade as it is stated: `stated` is empty where none may be."""

    stated: str
    standing: GradeStanding
    reasons: tuple[str, ...]
    information: tuple[str, ...]

    @property
    def text(self) -> str:
        """Say the grade and how far the record stands behind it."""
        match self.standing:
            case GradeStanding.SUPPORTED:
                return f"{self.stated}, supported by test"
            case GradeStanding.AS_MARKED:
                return f"{self.stated}, as the maker states it"
            case GradeStanding.REFUTED:
                return "none: a test refuted the grade"
            case GradeStanding.CONTRADICTED:
                return "none: mark and designation differ"

    def as_json(self) -> dict[str, JsonValue]:
        """Give the plain form that is frozen into a certificate."""
        return {
            "stated": self.stated,
            "standing": self.standing.value,
            "text": self.text,
            "reasons": list(self.reasons),
            "information": list(self.information),
        }


def certified_grade(
    *,
    designated: str,
    marked: str = "",
    measured: MeasuredForce | None = None,
    wires: Sequence[WireWord] = (),
    names: Sequence[GradeName] = (),
) -> GradeClaim:
    """State the grade of a rope.

    Args:
        designated: grade of the rope designation.
        marked: grade that the maker marked on the reel; empty where he marked none.
        measured: None where no breaking test on this rope says anything of its grade.
        wires: what tests of its wires say; one that refutes weighs more than any that supports.
        names: rows of the table of US grade names.
    """
    information = grade_information(designated, names)
    if marked and marked != designated:
        reason = f"The reel is marked {marked}, its designation says {designated}."
        return GradeClaim("", GradeStanding.CONTRADICTED, (reason,), information)
    if measured is None:
        return _by_wires(designated, wires, information)
    finding = grade_supported(grade=designated, rows=(), force=measured.evidence)
    reasons = (*(f"{measured.test}: {reason}" for reason in finding.reasons), *_told(wires))
    if finding.is_supported:
        return GradeClaim(designated, GradeStanding.SUPPORTED, reasons, information)
    return GradeClaim("", GradeStanding.REFUTED, (*reasons, RULE), information)


def _by_wires(
    designated: str, wires: Sequence[WireWord], information: tuple[str, ...]
) -> GradeClaim:
    """Let the wires decide where no breaking force does."""
    if not wires:
        reason = "No test on this rope bears on its grade: it is the maker's word."
        return GradeClaim(designated, GradeStanding.AS_MARKED, (reason,), information)
    if all(word.is_supported for word in wires):
        return GradeClaim(designated, GradeStanding.SUPPORTED, _told(wires), information)
    return GradeClaim("", GradeStanding.REFUTED, (*_told(wires), RULE), information)


def _told(wires: Sequence[WireWord]) -> tuple[str, ...]:
    return tuple(f"{word.test}: {word.text}" for word in wires)
