"""Which rules on proof loads apply to an assembly: by use, convention, ends and market day.

It picks rows of the proof load table and says why; what load a row asks for is decided by
`proof_load`. Nothing here replaces the reading of the law by a competent person.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from typing import Final

from certs.rules.derived import Source
from certs.rules.proof_load import ProofRow
from certs.rules.sling_legs import AngleConvention
from certs.rules.termination import TerminationKind

# From memory: the Directive is replaced from January 2027; the very day was not read.
REGULATION_FROM: Final = date(2027, 1, 20)
DIRECTIVE: Final = Source("2006/42/EC Annex I 4.1.2.5, working coefficients", "", "read")
REGULATION: Final = Source(
    "Regulation (EU) 2023/1230, in place of 2006/42/EC from 20 January 2027", "", "memory"
)
CARRIED_OVER: Final = Source(
    "Regulation (EU) 2023/1230: its coefficient was not read; that of 2006/42/EC carried over",
    "",
    "memory",
)
SLING_FORM: Final = Source("ASME B30.9, as cited on a US national-laboratory test form", "", "read")
SHIP_GEAR: Final = Source("29 CFR 1919.31 and 1919.33", "", "read")
ORDER: Final = Source("order or specification of whoever designs the use", "", "")

MACHINERY_ROW: Final = "sling_accessory_static"
MECHANICAL_ROW: Final = "sling_mechanical_splice"
HAND_TUCKED_ROW: Final = "sling_hand_tucked"
WELDED_ROW: Final = "welded_end_attachment"
SHIP_ROWS: Final = ("ship_gear_fitting", "loose_gear")


class Applies(StrEnum):
    """How far a regime is known to apply."""

    YES = "yes"
    DEPENDS = "depends"
    ONLY_IF = "only_if"
    NO_FIGURE = "no_figure"

    @property
    def words(self) -> str:
        """Give it as it is told on pages and paper."""
        return _WORDS[self]


_WORDS: Final[Mapping[Applies, str]] = {
    Applies.YES: "applies",
    Applies.DEPENDS: "depends on what is not on record",
    Applies.ONLY_IF: "only for that use",
    Applies.NO_FIGURE: "applies, no figure held",
}


@dataclass(frozen=True, slots=True)
class Regime:
    """A body of rules on proof loads, with its rows and the reason why it is named here."""

    name: str
    applies: Applies
    reason: str
    source: Source
    rows: tuple[ProofRow, ...] = ()


@dataclass(frozen=True, slots=True)
class Placed:
    """What decides which rules apply. `market_date` is None where the day is not on record."""

    is_lifting: bool
    is_endless: bool
    convention: AngleConvention
    market_date: date | None
    ends: frozenset[TerminationKind]


def proof_regimes(placed: Placed, *, rows: Iterable[ProofRow]) -> tuple[Regime, ...]:
    """Name the rules on proof loads for an assembly, those that surely apply first."""
    held = {row.key: row for row in rows if row.key}
    if not placed.is_lifting:
        reason = (
            "Nothing is lifted with it: the rules on lifting accessories do not speak of it. The"
            " proof load, if any, is that of the order or of whoever designs its use."
        )
        return (Regime("Static suspension", Applies.NO_FIGURE, reason, ORDER),)
    is_european = placed.convention is AngleConvention.FROM_VERTICAL
    found = _european(placed, held) if is_european else _american(placed, held)
    return (*found, *_hand_spliced(placed, held), *_ship_gear(held))


def _european(placed: Placed, held: Mapping[str, ProofRow]) -> Iterator[Regime]:
    day = placed.market_date
    static = _picked(held, MACHINERY_ROW)
    carried = tuple(replace(row, source=CARRIED_OVER) for row in static)
    if day is None:
        unknown = "The day it is placed on the market is not on record; it decides which applies. "
        doubt = Applies.DEPENDS
    else:
        unknown, doubt = "", Applies.YES
    if day is None or day < REGULATION_FROM:
        reason = (
            f"{unknown}Placed on the market before {REGULATION_FROM} (day from memory): the"
            " Directive, with a working coefficient of 5 for rope with its ends, and the static"
            " test coefficient for lifting accessories."
        )
        yield Regime("Machinery Directive 2006/42/EC", doubt, reason, DIRECTIVE, static)
    if day is None or day >= REGULATION_FROM:
        reason = (
            f"{unknown}Placed on the market on or after {REGULATION_FROM} (day from memory): the"
            " Regulation. Its coefficient was not read here: look it up before relying on it."
        )
        yield Regime("Machinery Regulation (EU) 2023/1230", doubt, reason, REGULATION, carried)


def _american(placed: Placed, held: Mapping[str, ProofRow]) -> Iterator[Regime]:
    spliced = TerminationKind.HAND_SPLICE in placed.ends
    mechanical = placed.is_endless or TerminationKind.FERRULE_SECURED_EYE in placed.ends
    name = "United States, wire rope slings"
    if mechanical and not spliced:
        reason = "Mechanical splice or endless sling: twice the vertical rated load, leg by leg."
        yield Regime(name, Applies.YES, reason, SLING_FORM, _picked(held, MECHANICAL_ROW))
    elif not spliced:
        reason = (
            "No American proof load is held for slings with these ends: enter it from your copy of"
            " the standard."
        )
        yield Regime(name, Applies.NO_FIGURE, reason, SLING_FORM)
    welded = _picked(held, WELDED_ROW)
    reason = "Only where an end attachment is welded; keep the certificate of that test."
    for row in welded:
        yield Regime("United States, welded ends", Applies.ONLY_IF, reason, row.source, welded)


def _hand_spliced(placed: Placed, held: Mapping[str, ProofRow]) -> Iterator[Regime]:
    """The splice may draw whatever the law asks: its ceiling holds everywhere."""
    if TerminationKind.HAND_SPLICE in placed.ends:
        reason = "A hand splice is never proved above 1.25 times its rated load, whoever asks."
        rows = _picked(held, HAND_TUCKED_ROW)
        yield Regime("Hand splice, most it may see", Applies.YES, reason, SLING_FORM, rows)


def _ship_gear(held: Mapping[str, ProofRow]) -> Iterator[Regime]:
    reason = (
        "Only where it serves as cargo gear of a ship: its fittings are proved, and of its rope a"
        " sample is broken, with at most a fifth as safe working load (a quarter for gear above"
        " 10 t)."
    )
    yield Regime("Ship’s cargo gear", Applies.ONLY_IF, reason, SHIP_GEAR, _picked(held, *SHIP_ROWS))


def _picked(held: Mapping[str, ProofRow], *keys: str) -> tuple[ProofRow, ...]:
    return tuple(held[key] for key in keys if key in held)
