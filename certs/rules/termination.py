"""How much of the rope's strength an end keeps, and where an end may not be used at all.

The rating that follows is decided by `working_load`, the proof load by `proof_load`.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from certs.rules.derived import Gap, Source, trimmed
from certs.rules.specification_row import decimal_or_none
from inventory.rules.refusal import Refusal

EFFICIENCY = "termination efficiency"
SYMMETRIC_WEDGE_STANDARD = "EN 13411-7"
FERRULE_LARGEST_MM = 60
# A spiral strand has no core, and is of steel throughout.
STEEL_CORES = frozenset({"", "WC", "WSC", "KWSC", "IWRC", "IWRC(K)", "EPIWRC", "PWRC", "PWRC(K)"})


class TerminationKind(StrEnum):
    """The ways of ending a rope."""

    FERRULE_SECURED_EYE = "ferrule_secured_eye"
    HAND_SPLICE = "hand_splice"
    SOCKET = "socket"
    SWAGE_TERMINAL = "swage_terminal"
    WEDGE_SOCKET = "wedge_socket"
    U_BOLT_GRIPS = "u_bolt_grips"


class AssemblyUse(StrEnum):
    """What an assembly is for, as far as it decides which ends it may have."""

    SLING = "sling"
    CRANE_OR_MINE_HOIST = "crane_or_mine_hoist"
    LIFT = "lift"
    STATIC_SUSPENSION = "static_suspension"
    SINGLE_USE_LIFT = "single_use_lift"
    OTHER = "other"


GRIPS_SCOPE = Source("EN 13411-5, scope", "2003+A1:2008", "read")
SYMMETRIC_WEDGE_SCOPE = Source("EN 13411-7, scope", "", "read")
FERRULE_SCOPE = Source("EN 13411-3, scope", "2004+A1 and 2022", "two-sources")
ASYMMETRIC_WEDGE_SCOPE = Source("EN 13411-6, scope", "", "read")

GRIPS_MAY_SERVE = frozenset({AssemblyUse.STATIC_SUSPENSION, AssemblyUse.SINGLE_USE_LIFT})


class TerminationRefused(Refusal):
    """An end that may not be used for this; the text says why and on whose word."""

    def __init__(self, reason: str, source: Source) -> None:
        """Take the reason as a sentence, and where it is written."""
        super().__init__(f"{reason} ({source.text})", field="termination")
        self.source = source


@dataclass(frozen=True, slots=True)
class TerminationRow:
    """A row of the termination table; None where no efficiency, or no limit of size, is held."""

    kind: TerminationKind | None
    name: str
    standard: str
    printed: str
    limits: str
    kt_steel_core: Decimal | None
    kt_fibre_core: Decimal | None
    size_min_mm: Decimal | None
    size_max_mm: Decimal | None
    source: Source

    @classmethod
    def read(cls, row: Mapping[str, str]) -> "TerminationRow":
        """Read a row of the termination table; the standard is its source."""
        return cls(
            kind=TerminationKind(row["kind"]) if row["kind"] else None,
            name=row["termination"],
            standard=row["standard"],
            printed=row["efficiency"],
            limits=row["scope_or_limits"],
            kt_steel_core=decimal_or_none(row["kt_steel_core"]),
            kt_fibre_core=decimal_or_none(row["kt_fibre_core"]),
            size_min_mm=decimal_or_none(row["size_min_mm"]),
            size_max_mm=decimal_or_none(row["size_max_mm"]),
            source=Source(row["standard"], "", row["kt_confidence"], row["scope_or_limits"]),
        )

    def efficiency_for(self, core: str) -> Decimal | None:
        """Give KT for a core; a core that is not known to be of steel takes the fibre value."""
        return self.kt_steel_core if core in STEEL_CORES else self.kt_fibre_core

    def covers(self, diameter_mm: Decimal) -> bool:
        """Say whether the row speaks of this size."""
        is_over = self.size_max_mm is not None and diameter_mm > self.size_max_mm
        is_under = self.size_min_mm is not None and diameter_mm < self.size_min_mm
        return not (is_over or is_under)


@dataclass(frozen=True, slots=True)
class Efficiency:
    """The share KT of the rope's breaking force that an end keeps.

    `printed` is the source's own writing; of a range its lower end is the `kt` used.
    """

    kind: TerminationKind
    name: str
    kt: Decimal
    printed: str
    source: Source
    place: str = ""

    @property
    def text(self) -> str:
        """Name the end, its place on the assembly, and its efficiency."""
        where = f" at {self.place}" if self.place else ""
        return f"{self.name}{where}: KT {self.kt}, printed as {self.printed}; {self.source.text}"


def efficiency(
    kind: TerminationKind,
    *,
    standard: str,
    core: str,
    diameter_mm: Decimal,
    rows: Iterable[TerminationRow],
) -> Efficiency | Gap:
    """Give the efficiency of an end under a standard, or a gap where none is held.

    `standard` is the beginning of its name, `EN 13411-3` meaning every edition. Where several
    rows speak of the same end the lowest efficiency is given.
    """
    held = [
        (kt, row)
        for row in rows
        if row.kind == kind and _is_of(row.standard, standard) and row.covers(diameter_mm)
        if (kt := row.efficiency_for(core)) is not None
    ]
    if not held:
        reason = (
            f"No efficiency is held for {_words(kind)} under {standard} at "
            f"{trimmed(diameter_mm)} mm, core {core or 'none'}: "
            "enter it from your copy of the standard."
        )
        return Gap(EFFICIENCY, reason)
    kt, row = min(held, key=lambda pair: pair[0])
    return Efficiency(kind, row.name, kt, row.printed, row.source)


def check_use(
    kind: TerminationKind,
    *,
    use: AssemblyUse,
    standard: str = "",
    diameter_mm: Decimal,
    is_stranded: bool = True,
) -> None:
    """Refuse an end where its own standard forbids it.

    Raises TerminationRefused for U-bolt grips on anything but a static suspension or an assessed
    single-use lift, for a symmetric wedge socket off a lift, for a wedge socket on a rope that is
    a single spiral strand, and for a ferrule above 60 mm.
    """
    if kind is TerminationKind.U_BOLT_GRIPS and use not in GRIPS_MAY_SERVE:
        reason = (
            "U-bolt grips may not end a sling, nor be the primary securing of a crane or mine "
            "hoist; their standard leaves static suspension and assessed single-use lifts."
        )
        raise TerminationRefused(reason, GRIPS_SCOPE)
    if (
        kind is TerminationKind.WEDGE_SOCKET
        and _is_of(standard, SYMMETRIC_WEDGE_STANDARD)
        and use is not AssemblyUse.LIFT
    ):
        reason = "A symmetric wedge socket is for lift ropes of EN 12385-5 only."
        raise TerminationRefused(reason, SYMMETRIC_WEDGE_SCOPE)
    if kind is TerminationKind.WEDGE_SOCKET and not is_stranded:
        reason = "A wedge socket is for stranded ropes; this one is a single spiral strand."
        raise TerminationRefused(reason, ASYMMETRIC_WEDGE_SCOPE)
    if kind is TerminationKind.FERRULE_SECURED_EYE and diameter_mm > FERRULE_LARGEST_MM:
        reason = f"Ferrule-secured eyes are standardised up to {FERRULE_LARGEST_MM} mm."
        raise TerminationRefused(reason, FERRULE_SCOPE)


def weakest(terminations: Sequence[Efficiency]) -> Efficiency:
    """Name the end that keeps least of the rope's strength; of equals the first.

    Raises Refusal when there is none: an assembly without ends has no rating.
    """
    if not terminations:
        message = "An assembly needs at least one termination with a known efficiency."
        raise Refusal(message, field="termination")
    return min(terminations, key=lambda end: end.kt)


def _is_of(standard: str, wanted: str) -> bool:
    """Say whether a name with edition is of the wanted standard: EN 13411-1 is not -10."""
    rest = standard.removeprefix(wanted)
    return standard.startswith(wanted) and not rest[:1].isdigit()


def _words(kind: TerminationKind) -> str:
    return kind.value.replace("_", " ")
