"""What a decision rule is: how much of the uncertainty is kept as a guard band (ILAC-G8:09/2019).

What a rule makes of a measured value is decided by `conformity`.
"""

from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Final

from certs.rules.derived import trimmed
from inventory.rules.canonical import JsonValue
from inventory.rules.refusal import Refusal

# ILAC-G8:09/2019 Table 1 goes up to w = 3 U; a wider band is taken as a slip of the pen.
WIDEST_MULTIPLE: Final = Decimal(3)
_LONGEST = 8


class NoMultiple(Refusal):
    """A multiple that no guard band can be made of."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A decision rule: guard band w = r U with r = `multiple`; nought is simple acceptance."""

    name: str
    multiple: Decimal = Decimal(0)
    paper: str = ""
    code: str = ""

    @property
    def is_guarded(self) -> bool:
        """Say whether a guard band is kept."""
        return self.multiple > 0

    @property
    def words(self) -> str:
        """Say the rule in one sentence."""
        if not self.is_guarded:
            return "Accepted if the measured force is within the limit; no guard band."
        times = "" if self.multiple == 1 else f"{trimmed(self.multiple)} times "
        return (
            "Accepted if the measured force is within the limit by a guard band of"
            f" {times}its expanded uncertainty."
        )

    def as_json(self) -> dict[str, JsonValue]:
        """Give the plain form that is kept with a decision."""
        return {
            "code": self.code,
            "name": self.name,
            "multiple": trimmed(self.multiple),
            "paper": self.paper,
            "words": self.words,
        }


# The standards' own rule for a breaking force or a proof load: no guard band unless one is asked.
INHERENT: Final = Rule("measured at least the force required", paper="the standard’s own rule")


def read_multiple(text: str) -> Decimal:
    """Read r of w = r U: above nought, not above 3, a point or a comma.

    Raises NoMultiple.
    """
    written = text.strip().replace(",", ".")
    try:
        multiple = Decimal(written)
    except InvalidOperation:
        multiple = Decimal(0)
    if len(written) > _LONGEST or not multiple.is_finite() or not 0 < multiple <= WIDEST_MULTIPLE:
        message = (
            f"Write the multiple as a number above 0 and not above {WIDEST_MULTIPLE}, such as 1"
            " or 0.83."
        )
        raise NoMultiple(message, field="multiple")
    return multiple
