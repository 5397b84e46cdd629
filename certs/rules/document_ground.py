"""A decision on a document, and the ground of each case: reason, duty, source, confidence.

The cases are numbered as in the table of document types. Which case applies is decided by
`document_type`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Final


@dataclass(frozen=True, slots=True)
class Ground:
    """The ground of a decision. Confidence: two-sources, read, derived, or memory (not seen)."""

    reason: str
    must_state: tuple[str, ...]
    source: str
    confidence: str


_DEFINITIONS: Final = "EN 10204:2004 definitions (processing changes the product)"
_CLAUSE_6: Final = "EN 10204:2004 clause 6"

GROUNDS: Final[Mapping[str, Ground]] = MappingProxyType(
    {
        "DT01": Ground(
            "Without test results only conformity with the order can be declared.",
            ("conformity with the order", "no test results"),
            "EN 10204:2004 3.1",
            "two-sources",
        ),
        "DT02": Ground(
            "Results of non-specific inspection are of the same process, not of these goods.",
            ("mark the results as non-specific", "never as results of the goods delivered"),
            "EN 10204:2004 3.2",
            "two-sources",
        ),
        "DT03": Ground(
            "Specific results, validated by a representative independent of production.",
            ("test unit and tests as ordered", "the representative and his independence"),
            "EN 10204:2004 4.1",
            "two-sources",
        ),
        "DT04": Ground(
            "Specific results without an independent inspection representative: no 3.1. A signature"
            " from production does not raise the type.",
            ("no label 3.1",),
            "EN 10204:2004 4.1",
            "two-sources",
        ),
        "DT05": Ground(
            "Specific results, validated by the maker's representative and a second inspector.",
            ("both validators", "whether the second is the purchaser's or an official inspector"),
            "EN 10204:2004 4.2",
            "two-sources",
        ),
        "DT06": Ground(
            "The calibration of the testing machine was not valid, or not known, on the day of the"
            " test: the results support nothing above a declaration.",
            ("test again, or assess what the error could have been, first",),
            "derived from DT03 + ISO/IEC 17025 6.4/7.10",
            "memory",
        ),
        "DT07": Ground(
            "The results are not on the document. “Available on request” is not a 3.1.",
            ("write the results on the document",),
            "EN 10204:2004 4.1 (expert Q&A)",
            "read",
        ),
        "DT08": Ground(
            "Specific results of the input material may be quoted by its processor.",
            ("quote those results as the input maker's", "keep and produce the input document"),
            "EN 10204:2004 4.x (expert Q&A)",
            "read",
        ),
        "DT09": Ground(
            "Goods passed on unprocessed go with their maker's document, unaltered.",
            (
                "identification that ties goods to document",
                "only the quantity may be that of the part delivered",
                "keep the original available",
            ),
            _CLAUSE_6,
            "two-sources",
        ),
        "DT10": Ground(
            "The original of this copy cannot be produced.",
            ("obtain the original from the manufacturer",),
            _CLAUSE_6,
            "two-sources",
        ),
        "DT11": Ground(
            "The document belongs to another reel. A document never stands in for another.",
            ("no substitution between lots",),
            "EN 10204:2004 clause 6 (traceability)",
            "two-sources",
        ),
        "DT12": Ground(
            "The goods come from more than one reel: each reel goes with its own document.",
            ("which cut length belongs to which document", "keep the originals available"),
            _CLAUSE_6,
            "two-sources",
        ),
        "DT13": Ground(
            "Only its manufacturer issues a document of EN 10204 for a rope.",
            ("a statement of traceability may be given; it is not called 2.x or 3.x",),
            "EN 10204:2004 3/4 + 6",
            "two-sources",
        ),
        "DT14": Ground(
            "Terminating makes a new product: its maker declares the assembly, and passes on the"
            " rope's document.",
            ("two separate documents", "each names its own issuer"),
            _DEFINITIONS,
            "memory",
        ),
        "DT15": Ground(
            "A type test of the termination is not a test of this assembly.",
            ("that the results of the termination come from a type test",),
            "EN 10204 3.2 + EN 13411-3",
            "memory",
        ),
        "DT16": Ground(
            "A proof load on this very assembly is a specific result.",
            ("the breaking force remains the rope maker's value",),
            "EN 10204 4.1",
            "memory",
        ),
        "DT17": Ground(
            "The proof load is not validated by a representative independent of the workshop.",
            ("no label 3.1", "the report of the proof load may be attached"),
            "EN 10204 4.1",
            "two-sources",
        ),
        "DT18": Ground(
            "A proof load on this assembly, validated by the maker's and a second inspector.",
            ("3.2 does not extend to the rope unless its document is itself 3.2",),
            "EN 10204 4.2",
            "memory",
        ),
        "DT19": Ground(
            "A laboratory reports on the sample that it was sent.",
            ("results relate only to the sample tested", "not a 3.1 of the rope"),
            "ISO/IEC 17025:2017 7.8.2.1 l",
            "read",
        ),
        "DT20": Ground(
            "The document is superseded, withdrawn or recalled.",
            ("attach only the current revision", "keep the old one readable and marked"),
            "ISO/IEC 17025:2017 7.8.8",
            "read",
        ),
        # Not in the table; they follow from its other cases.
        "no mill document": Ground(
            "No document of the rope's maker is held, and nothing stands in for it.",
            ("obtain the document from the manufacturer",),
            f"derived from DT10 + {_CLAUSE_6}",
            "derived",
        ),
        "no input document": Ground(
            "Results of the input material can be quoted only with its document at hand.",
            ("obtain the input maker's document",),
            "derived from DT08",
            "derived",
        ),
        "no laboratory results": Ground(
            "A laboratory without results has nothing to report.",
            (),
            "derived from DT19",
            "derived",
        ),
    }
)


class Result(StrEnum):
    """What may be done."""

    ISSUE = "issue"
    HAND_ON = "pass_on"
    BLOCK = "block"


@dataclass(frozen=True, slots=True)
class Decision:
    """What may be done with which types, what must be stated, and on what ground.

    `passes_on` tells that the rope maker's document goes along, one for each of `documents` reels.
    `may_state` tells that a statement of traceability, no document of EN 10204, may be given.
    """

    result: Result
    permitted: tuple[str, ...]
    case: str
    passes_on: bool = False
    documents: int = 0
    may_state: bool = False

    @property
    def reason(self) -> str:
        """Return why, in a sentence or two."""
        return GROUNDS[self.case].reason

    @property
    def must_state(self) -> tuple[str, ...]:
        """Return what the document must state, or what must be done."""
        return GROUNDS[self.case].must_state

    @property
    def source(self) -> str:
        """Return where the rule stands."""
        return GROUNDS[self.case].source

    @property
    def confidence(self) -> str:
        """Return how sure the source is; “memory”: not seen, so never shown as authority."""
        return GROUNDS[self.case].confidence
