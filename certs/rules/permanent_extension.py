"""How much longer an item stayed after a proof load, and what that says of it.

Nobody here holds a limit for it: only an order or a standard that is named with its limit decides.
Without one it is told, and judged by a competent person.
"""

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from typing import Final

from certs.rules.derived import Derived, Given, Source, trimmed
from inventory.rules.refusal import Refusal

# The notion of percentage permanent elongation: what stays of the gauge length once unloaded.
SOURCE: Final = Source("ISO 6892-1, percentage permanent elongation", "", "memory")
_STEP: Final = Decimal("0.01")
_LIMIT: Final = re.compile(r"\d{1,3}(?:\.\d{1,4})?", re.ASCII)
_UM_PER_MM: Final = 1000
# Own decision: a limit of more is a slip of the pen.
_MOST_PCT: Final = 100


class ExtensionOutcome(StrEnum):
    """What a permanent extension says."""

    WITHIN = "within"
    BEYOND = "beyond"
    CANNOT_SAY = "cannot_say"
    TOLD = "told"


@dataclass(frozen=True, slots=True)
class PermanentExtension:
    """The extension in per cent, the limit where one was named, and what follows, in a sentence."""

    derived: Derived
    limit_pct: Decimal | None
    outcome: ExtensionOutcome
    told: str


def permanent_extension(
    *, before_um: int, after_um: int, limit_pct: Decimal | None
) -> PermanentExtension:
    """Give e = 100 (L1 - L0) / L0 in %, from one gauge length in µm, unloaded before and after.

    It is compared with the limit unrounded. Raises Refusal for a length that is none.
    """
    if before_um <= 0 or after_um <= 0:
        message = "A gauge length is above nought; give it as measured, before and after the load."
        raise Refusal(message, field="gauge_before_um" if before_um <= 0 else "gauge_after_um")
    unrounded = 100 * (Decimal(after_um) - before_um) / before_um
    derived = Derived(
        quantity="permanent extension",
        symbol="e",
        formula="e = 100 (L1 - L0) / L0",
        inputs=(
            Given("L0", "gauge length before the load, unloaded", _mm(before_um), "mm"),
            Given("L1", "the same after the load, unloaded", _mm(after_um), "mm"),
        ),
        source=SOURCE,
        unrounded=unrounded,
        stated=unrounded.quantize(_STEP, rounding=ROUND_HALF_UP),
        unit="%",
        rounding="to 0.01 %, a half away from nought",
        basis="one gauge length, measured unloaded before and after",
    )
    outcome = _outcome(unrounded, limit_pct)
    return PermanentExtension(derived, limit_pct, outcome, _told(derived, limit_pct, outcome))


def read_limit_pct(text: str) -> Decimal | None:
    """Read a limit in per cent; None for an empty one. Raises Refusal."""
    written = text.strip().replace(",", ".").removesuffix("%").strip()
    if not written:
        return None
    if _LIMIT.fullmatch(written) is None or Decimal(written) > _MOST_PCT:
        message = f"“{text.strip()}” is no limit in per cent; write it as 0.5."
        raise Refusal(message, field="extension_limit_pct")
    return Decimal(written)


def _outcome(extension_pct: Decimal, limit_pct: Decimal | None) -> ExtensionOutcome:
    if limit_pct is None:
        return ExtensionOutcome.TOLD
    if extension_pct < 0:
        return ExtensionOutcome.CANNOT_SAY
    return ExtensionOutcome.WITHIN if extension_pct <= limit_pct else ExtensionOutcome.BEYOND


def _told(derived: Derived, limit_pct: Decimal | None, outcome: ExtensionOutcome) -> str:
    found = f"Permanent extension: {derived.text}"
    if derived.unrounded < 0:
        found += ", shorter after the load than before it: check the readings"
    if limit_pct is None:
        return f"{found}. No limit was named: a competent person judges it."
    limit = f"the limit of {trimmed(limit_pct)} % that was named"
    verdict = {
        ExtensionOutcome.WITHIN: f"within {limit}",
        ExtensionOutcome.BEYOND: f"beyond {limit}",
        ExtensionOutcome.CANNOT_SAY: f"so {limit} is not shown to be kept",
    }
    return f"{found}, {verdict[outcome]}."


def _mm(um: int) -> str:
    return trimmed(Decimal(um) / _UM_PER_MM)
