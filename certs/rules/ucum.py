"""The units of this program as UCUM writes them, for readers that are machines.

Source: The Unified Code for Units of Measure; the codes agree with QUDT's.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

UCUM: Final[Mapping[str, str]] = MappingProxyType(
    {
        "mm": "mm",
        "m": "m",
        "N": "N",
        "kN": "kN",
        "N/mm²": "N/mm2",
        "kg": "kg",
        "t": "t",
        "ms": "ms",
    }
)
