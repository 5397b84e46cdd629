"""How many pieces of rope an assembly of each kind is made of, and which ends are terminated.

The kinds are those of EN 13414-1 (slings of one to four legs, endless slings), and rope with
ends that is no sling. That every leg is terminated at both ends follows from what a leg is.
"""

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from types import MappingProxyType
from typing import Final

from inventory.rules.refusal import Refusal

ENDS: Final = frozenset({"near", "far"})

PIECES: Final[Mapping[str, int]] = MappingProxyType(
    {
        "one_leg": 1,
        "two_leg": 2,
        "three_leg": 3,
        "four_leg": 4,
        "endless": 1,
        "rope_with_ends": 1,
    }
)
LEGGED: Final = frozenset({"one_leg", "two_leg", "three_leg", "four_leg"})


def check_legs(kind: str, terminated: Sequence[AbstractSet[str]]) -> None:
    """Refuse an assembly whose pieces and ends do not make one of its kind.

    Args:
        kind: a key of `PIECES`.
        terminated: for each piece, which of its ends ("near", "far") are terminated.

    Raises:
        Refusal: unknown kind or end, wrong number of pieces, a leg with an open end, or no
            termination at all.
    """
    if kind not in PIECES:
        message = f"“{kind}” is no kind of assembly; it is one of {', '.join(PIECES)}."
        raise Refusal(message, field="kind")
    if len(terminated) != PIECES[kind]:
        message = f"This kind of assembly takes {_pieces(PIECES[kind])}, not {len(terminated)}."
        raise Refusal(message, field="pieces")
    for number, ends in enumerate(terminated, start=1):
        if not ends <= ENDS:
            message = "An end of a piece is “near” or “far”."
            raise Refusal(message, field="terminations")
        if kind in LEGGED and ends != ENDS:
            message = f"Leg {number} has an open end; a leg is terminated at both ends."
            raise Refusal(message, field="terminations")
        if not ends:
            message = "No end is terminated; a plain length of rope is a cut piece, no assembly."
            raise Refusal(message, field="terminations")


def _pieces(count: int) -> str:
    return "1 piece of rope" if count == 1 else f"{count} pieces of rope"
