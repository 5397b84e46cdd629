"""How the wires of a sample lie to the bands of a grade, and whether that is enough to say so.

The band of a wire is that of EN 10264-1, how many wires may lie outside is that of ISO 10425
Annex B; both as read. How it is told, and which grade is the highest, is decided by `wire_grade`.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from certs.rules.derived import Gap
from certs.rules.rope_grade import STRENGTH_BAND, StrengthBand, WireBand, wire_band
from certs.rules.wire_strength import Wire

NON_ALLOY: Final = "non-alloy"
STAINLESS: Final = "stainless"
_FIVE_PERCENT: Final = 20
# EN 10027-2 numbers stainless steels 1.4…; EN 10027-1 writes high-alloy steels with an X.
_STAINLESS_NAME: Final = re.compile(r"1\.4\d{3}|X\d|3\d\d|AISI 3")
_CARBON_NAME: Final = re.compile(r"C\d")


class GradeOutcome(StrEnum):
    """What the wires say of the marked grade."""

    SUPPORTS = "supports"
    REFUTES = "refutes"
    CANNOT_SAY = "cannot_say"


@dataclass(frozen=True, slots=True)
class Sample:
    """The wires that were tested of a rope.

    `steel` is that of the wire table, empty where it is not known. `required` is how many wires
    the standard asks for, None where it cannot be said; `is_whole` says that all were tested.
    `may_be_outside` says that the 5 % of Annex B apply: they are for wires taken from a rope.
    """

    steel: str
    wires: tuple[Wire, ...]
    required: int | None
    is_whole: bool
    may_be_outside: bool = True

    @property
    def judged(self) -> tuple[Wire, ...]:
        """The wires that bear on the grade."""
        return tuple(wire for wire in self.wires if wire.is_judged)


@dataclass(frozen=True, slots=True)
class Count:
    """How the wires lie to the bands of one grade; each wire counts once, whatever it failed."""

    grade: str
    tested: int
    outside: tuple[Wire, ...]
    gaps: tuple[str, ...]
    bands: tuple[tuple[Wire, StrengthBand], ...]


def count_outside(grade: str, *, sample: Sample, rows: Sequence[WireBand]) -> Count:
    """Count the wires outside the band of a grade; a wire that no row speaks of is a gap."""
    if not grade.isdecimal():
        gap = f"Grade {grade} is a name, not a tensile strength: it has no band of wires."
        return Count(grade, len(sample.judged), (), (gap,), ())
    outside, gaps, bands = [], [], []
    for wire in sample.judged:
        band = _band(grade, wire, sample.steel, rows)
        if isinstance(band, Gap):
            gaps.append(band.reason)
            continue
        bands.append((wire, band))
        if not band.contains(wire.strength):
            outside.append(wire)
    return Count(
        grade, len(sample.judged), tuple(outside), tuple(dict.fromkeys(gaps)), tuple(bands)
    )


def allowed_outside(wires: int) -> int:
    """Give how many of so many wires may lie outside: 5 %, rounded up (API Spec 9A Annex B)."""
    return -(-wires // _FIVE_PERCENT)


def steel_of_wires(names: Iterable[str]) -> str:
    """Give the steel of the wire table from the names of the heats; empty where they differ."""
    found = {_steel(name.strip().upper()) for name in names}
    return found.pop() if len(found) == 1 else ""


def grade_outcome(count: Count, sample: Sample) -> GradeOutcome:
    """Too few wires refute only where those left could not make good what was found."""
    most = allowed_outside(max(count.tested, sample.required or 0))
    allowed = allowed_outside(count.tested) if sample.may_be_outside else 0
    if len(count.outside) > most:
        # Memory never rejects.
        is_known = not any(band.source.is_provisional for _, band in count.bands)
        return GradeOutcome.REFUTES if is_known else GradeOutcome.CANNOT_SAY
    is_shown = sample.is_whole and not count.gaps and count.tested > 0
    if is_shown and len(count.outside) <= allowed < max(count.tested, 1):
        return GradeOutcome.SUPPORTS
    return GradeOutcome.CANNOT_SAY


def _steel(name: str) -> str:
    if _STAINLESS_NAME.match(name):
        return STAINLESS
    return NON_ALLOY if _CARBON_NAME.match(name) else ""


def _band(grade: str, wire: Wire, steel: str, rows: Sequence[WireBand]) -> StrengthBand | Gap:
    if not steel:
        return Gap(STRENGTH_BAND, "The heats do not tell of which steel the wires are.")
    return wire_band(steel=steel, wire_diameter_mm=wire.diameter_mm, grade=grade, rows=rows)
