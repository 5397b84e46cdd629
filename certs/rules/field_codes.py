"""Decides which code of EN 10168 stands beside a field of a paper, and how well it is known.

EN 10168 gives the fields of inspection documents codes and says what each means, not how it looks.
The text of the standard was not at hand: a few codes were seen in other documents, the rest are
from memory and are marked so on every paper. The breaking force of a rope has no code of its own
and takes one of the ranges left for other mechanical tests, with its name printed.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

MARK_OF_MEMORY: Final = "*"
_READ: Final = "read"
_MEMORY: Final = "memory"
FOOTNOTE: Final = (
    "Small codes beside the names of fields are those of EN 10168. Those marked * are from memory"
    " and were not checked against the standard."
)


@dataclass(frozen=True, slots=True)
class FieldCode:
    """A code, what it stands for, and how well that is known: a mark of `confidence.WORDS`."""

    code: str
    content: str
    confidence: str

    @property
    def shown(self) -> str:
        """Write the code as on paper: what is from memory bears a star."""
        return self.code + (MARK_OF_MEMORY if self.confidence == _MEMORY else "")


_SEEN: Final = (
    ("A01", "manufacturer's works (name and address)"),
    ("B01", "product: form and dimensional standard"),
    ("B07", "identification of the product: cast, batch, test number"),
    ("C11", "yield or proof strength"),
    ("C71-C92", "chemical composition; symbol and value go with it"),
)
_FROM_MEMORY: Final = (
    ("A02", "type of inspection document"),
    ("A03", "document number"),
    ("A05", "originator of the document"),
    ("A06", "purchaser or consignee"),
    ("A07", "purchaser's order number"),
    ("B02", "steel designation and delivery conditions"),
    ("B06", "marking of the product"),
    ("B08", "number of pieces"),
    ("B09-B11", "dimensions of the product"),
    ("B12", "theoretical mass"),
    ("B14-B99", "supplementary information on the product"),
    ("C00", "identification of the sample"),
    ("C01", "location of the sample"),
    ("C50-C69", "other mechanical tests"),
    ("D01", "marking, identification, surface, shape, dimensions"),
    ("D51-D99", "other product tests"),
    ("Z01", "statement of compliance"),
    ("Z02", "date of issue and validation"),
    ("Z03", "stamp of the inspection representative"),
)

CODES: Final[Mapping[str, FieldCode]] = MappingProxyType(
    {code: FieldCode(code, content, _READ) for code, content in _SEEN}
    | {code: FieldCode(code, content, _MEMORY) for code, content in _FROM_MEMORY}
)


def shown_code(code: str) -> str:
    """Write a code as it stands on paper: "B07", and "A03*" where it is from memory.

    Raises:
        KeyError: no such code is known here.
    """
    return CODES[code].shown
