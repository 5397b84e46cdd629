"""What is held when somebody wants to hand over an inspection document, and how it may be called.

Words and facts only; what follows from them is decided by `document_type`.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Final, NamedTuple

from inventory.rules.refusal import Refusal


class DocumentType(StrEnum):
    """Documents of EN 10204:2004, and two that it does not know."""

    DECLARATION = "2.1"
    TEST_REPORT = "2.2"
    CERTIFICATE_31 = "3.1"
    CERTIFICATE_32 = "3.2"
    LABORATORY = "laboratory"
    STATEMENT = "statement"


class Actor(StrEnum):
    """What the one who hands over the document is to the goods."""

    MANUFACTURER_OF_ITEM = "manufacturer_of_item"
    INTERMEDIARY = "intermediary"
    STOCKIST_ASSEMBLER = "stockist_assembler"
    INDEPENDENT_LABORATORY = "independent_laboratory"


class Results(StrEnum):
    """What kind of test results are held for the goods (EN 10204:2004 clause 2)."""

    NONE = "none"
    NON_SPECIFIC = "non_specific"
    TYPE_TEST_ONLY = "type_test_only"
    SPECIFIC = "specific"
    SPECIFIC_FROM_INPUT_MAKER = "specific_from_input_maker"


class MillDocument(StrEnum):
    """What is held of the rope maker's own document."""

    NONE = "none"
    ORIGINAL = "original"
    COPY_ORIGINAL_AVAILABLE = "copy_original_available"
    COPY_WITHOUT_ORIGINAL = "copy_without_original"
    FOR_ANOTHER_REEL = "for_another_reel"


class SecondInspector(StrEnum):
    """Who validated beside the maker's own inspection representative."""

    NONE = "none"
    PURCHASER_REPRESENTATIVE = "purchaser_representative"
    OFFICIAL_INSPECTOR = "official_inspector"


@dataclass(frozen=True, slots=True)
class Evidence:
    """What is held. Everything that supports a document is absent unless it is said to be there.

    `calibration_valid`: of the machine, on the day of the test. `has_values`: the results are
    written on the document. `has_independent_representative`: it is validated by the maker's
    inspection representative, who does not belong to the manufacturing department.
    `has_input_document`: the input maker's document can be produced, under a procedure of
    traceability. `mill_document_type`: the type of the document to be passed on. `ordered_type`:
    the type agreed at order. `is_current`: no document used is superseded, withdrawn or recalled.
    """

    actor: Actor
    results: Results = Results.NONE
    has_values: bool = False
    calibration_valid: bool = False
    has_independent_representative: bool = False
    second_inspector: SecondInspector = SecondInspector.NONE
    has_input_document: bool = False
    mill_document: MillDocument = MillDocument.NONE
    mill_document_type: DocumentType | None = None
    number_of_reels: int = 1
    is_current: bool = False
    wants_own_document: bool = False
    ordered_type: DocumentType | None = None


class InspectionType(NamedTuple):
    """A type of EN 10204 as it is called since 2004; historic: it was given under its old name."""

    name: str
    historic: bool


# EN 10204:2004 against its edition of 1991. What the old 2.3 became nobody says: it keeps its name.
_OLD_NAMES: Final[Mapping[str, str]] = MappingProxyType(
    {"2.3": "2.3", "3.1A": "3.2", "3.1B": "3.1", "3.1C": "3.2"}
)
_NAMES: Final = frozenset({"2.1", "2.2", "3.1", "3.2"})
_WRITTEN: Final = re.compile(
    r"(?:(?:DIN|BS|NF|SS)?EN10204(?::(?P<edition>\d{4}))?[-:/,]*)?(?:TYPE|TYP)?"
    r"(?P<type>[23]\.[123])\.?(?P<letter>[ABC]?)"
)
_SINCE: Final = 2004


def normalise_type(text: str) -> InspectionType:
    """Read a type as written on a mill document: "3.1", "EN 10204 - 3.1.B", "type 2.2".

    Old names are read as historic data. Raises `Refusal` for a type that never was.
    """
    written = _WRITTEN.fullmatch("".join(text.upper().split()))
    name = written["type"] + written["letter"] if written else ""
    is_old_edition = bool(written and written["edition"] and int(written["edition"]) < _SINCE)
    if name in _OLD_NAMES:
        return InspectionType(_OLD_NAMES[name], historic=True)
    if name in _NAMES:
        return InspectionType(name, historic=is_old_edition)
    message = f"“{text.strip()}” is no document of EN 10204; its types are 2.1, 2.2, 3.1 and 3.2."
    raise Refusal(message, field="document_type")
