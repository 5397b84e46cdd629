"""What a ladle analysis is: mass fractions in per cent by symbol, as the mill printed them.

Whether the figures are right for a steel is not decided here.
"""

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Final

from inventory.rules.refusal import Refusal

# Symbols of the elements (IUPAC) that steel analyses speak of. `Al_t` and the like are not
# symbols: what a mill calls so is written as the element.
ELEMENTS: Final = frozenset(
    {"Al", "As", "B", "Bi", "C", "Ca", "Ce", "Co", "Cr", "Cu", "Fe", "H", "La", "Mg", "Mn"}
    | {"Mo", "N", "Nb", "Ni", "O", "P", "Pb", "S", "Sb", "Se", "Si", "Sn", "Ta", "Te", "Ti"}
    | {"V", "W", "Zn", "Zr"}
)
_FIGURE: Final = re.compile(r"<?[0-9]{1,3}(\.[0-9]{1,5})?")
_WHOLE_PCT: Final = Decimal(100)


def check_analysis(analysis: Mapping[str, str]) -> dict[str, str]:
    """Return the analysis with its figures as printed, without space around them.

    A figure is decimal text in mass %, "0.72" or "<0.005"; "0.72" and "0.720" stay different.

    Raises:
        Refusal: unknown symbol, figure that is none, or more than 100 % in all.
    """
    checked: dict[str, str] = {}
    total_pct = Decimal(0)
    for symbol, figure in analysis.items():
        text = figure.strip().replace(",", ".")
        if symbol not in ELEMENTS:
            message = f"“{symbol}” is no element of a steel analysis; write it as Mn."
            raise Refusal(message, field="analysis")
        if not _FIGURE.fullmatch(text):
            message = f"“{figure}” is no content of {symbol} in mass %; write it as 0.72 or <0.005."
            raise Refusal(message, field="analysis")
        checked[symbol] = text
        total_pct += Decimal(text.removeprefix("<"))
    if total_pct > _WHOLE_PCT:
        message = f"The contents add up to {total_pct} %, which is more than the whole."
        raise Refusal(message, field="analysis")
    return checked
