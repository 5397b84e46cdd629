"""What the heading of a force log says: which column is the time, which the force, in which units.

It reads names and units only. It never guesses a unit; what it cannot find it leaves empty.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType
from typing import Final

from inventory.rules.units import N_PER_UNIT

SECONDS_PER_UNIT: Final[Mapping[str, Decimal]] = MappingProxyType(
    {"s": Decimal(1), "ms": Decimal("0.001"), "min": Decimal(60)}
)

# Decimal multiples of the newton (SI prefixes) beside the units in which rope is sold.
NEWTONS_PER_UNIT: Final[Mapping[str, Decimal]] = MappingProxyType(
    {unit: N_PER_UNIT[unit] for unit in ("N", "kN", "kgf", "tf", "lbf", "tonf (short)")}
    | {"daN": Decimal(10), "MN": Decimal(1_000_000)}
)

_TIME_SPELLINGS: Final[Mapping[str, str]] = MappingProxyType(
    {"s": "s", "sec": "s", "sek": "s", "second": "s", "seconds": "s", "sekunden": "s"}
    | {"ms": "ms", "msec": "ms", "min": "min", "minutes": "min", "minuten": "min"}
)
# "mn" is left out: MN and mN differ by nine powers of ten, so only "MN" itself is understood.
_FORCE_SPELLINGS: Final[Mapping[str, str]] = MappingProxyType(
    {unit.casefold(): unit for unit in NEWTONS_PER_UNIT if unit != "MN"}
    | {"kp": "kgf", "short tonf": "tonf (short)", "tonf(short)": "tonf (short)"}
)

_TIME_NAMES: Final = frozenset({"time", "t", "elapsed", "zeit"})
_FORCE_NAMES: Final = frozenset({"force", "load", "f", "tension", "kraft", "last"})
# A set value or a rate stands in a column of its own and is not what the machine measured.
_NOT_MEASURED: Final = frozenset({"set", "setpoint", "target", "nominal", "rate", "speed"})

_BRACKETED: Final = re.compile(
    r"(?P<name>.*?)\s*(?:\[(?P<a>[^\]]*)\]|\((?P<b>[^)]*)\)|/(?P<c>[^/]*))\s*"
)
_TRAILING: Final = re.compile(r"(?P<name>.*?)(?:\s+in\s+|\s*,\s*|\s+|_)(?P<unit>[^\s,_]+)\s*")
_WORD: Final = re.compile(r"[^\W\d_]+")


@dataclass(frozen=True, slots=True)
class Heading:
    """One cell of the heading: its name and, as written, its unit (empty: none written)."""

    name: str
    unit: str

    @property
    def time_unit(self) -> str | None:
        """Return the unit of time, a key of `SECONDS_PER_UNIT`, or None."""
        return known_time_unit(self.unit)

    @property
    def force_unit(self) -> str | None:
        """Return the unit of force, a key of `NEWTONS_PER_UNIT`, or None."""
        return known_force_unit(self.unit)

    @property
    def is_time(self) -> bool:
        """Tell whether this column can be the time."""
        return self.time_unit is not None or self._is_named(_TIME_NAMES, ending="zeit")

    @property
    def is_force(self) -> bool:
        """Tell whether this column can be the measured force."""
        words = self._words()
        if any(word in _NOT_MEASURED or word.startswith("soll") for word in words):
            return False
        return self.force_unit is not None or self._is_named(_FORCE_NAMES, ending="kraft")

    def _is_named(self, names: frozenset[str], *, ending: str) -> bool:
        return any(word in names or word.endswith(ending) for word in self._words())

    def _words(self) -> list[str]:
        return _WORD.findall(self.name.casefold())


@dataclass(frozen=True, slots=True)
class Columns:
    """Where the time and the force stand, counted from 0, and the units that the heading names."""

    time: int
    force: int
    width: int
    time_unit: str | None
    force_unit: str | None
    force_written: str = ""


def known_time_unit(text: str) -> str | None:
    """Return the key of `SECONDS_PER_UNIT` that a spelling means, or None."""
    return _TIME_SPELLINGS.get(text.strip().casefold())


def known_force_unit(text: str) -> str | None:
    """Return the key of `NEWTONS_PER_UNIT` that a spelling means, or None."""
    written = text.strip()
    return "MN" if written == "MN" else _FORCE_SPELLINGS.get(written.casefold())


def read_heading(cell: str) -> Heading:
    """Split a cell such as "Force [kN]", "Zeit/s", "t (ms)" or "force_kN" into name and unit."""
    text = cell.strip().strip('"').strip()
    if known_time_unit(text) or known_force_unit(text):
        return Heading(name="", unit=text)
    bracketed = _BRACKETED.fullmatch(text)
    if bracketed is not None:
        unit = bracketed["a"] or bracketed["b"] or bracketed["c"] or ""
        return Heading(name=bracketed["name"], unit=unit.strip())
    trailing = _TRAILING.fullmatch(text)
    if trailing is not None and (
        known_time_unit(trailing["unit"]) or known_force_unit(trailing["unit"])
    ):
        return Heading(name=trailing["name"], unit=trailing["unit"])
    return Heading(name=text, unit="")


def join_rows(names: Sequence[str], units: Sequence[str]) -> list[str]:
    """Put a row of units such as "[s]", "[kN]" or "s", "kN" behind the row of names above it."""
    return [
        f"{name.strip()} [{unit.strip().strip('[]()')}]"
        for name, unit in zip(names, units, strict=True)
    ]


def is_unit_row(cells: Sequence[str]) -> bool:
    """Tell whether a row holds a unit of time and one of force and no names."""
    bare = [cell.strip().strip("[]()") for cell in cells]
    return any(map(known_time_unit, bare)) and any(map(known_force_unit, bare))


def find_columns(cells: Sequence[str]) -> Columns | tuple[str, ...] | None:
    """Find the one time and the one force column of a heading.

    Returns the names that compete where more than one column could be the time or the force, and
    None where the row is no heading of a force log.
    """
    headings = [read_heading(cell) for cell in cells]
    times = [i for i, heading in enumerate(headings) if heading.is_time]
    forces = [i for i, heading in enumerate(headings) if heading.is_force and i not in times]
    # A named unit says more than a name.
    times = [i for i in times if headings[i].time_unit] or times
    forces = [i for i in forces if headings[i].force_unit] or forces
    if not times or not forces:
        return None
    for candidates in (times, forces):
        if len(candidates) > 1:
            return tuple(cells[i].strip() for i in candidates)
    time, force = headings[times[0]], headings[forces[0]]
    return Columns(times[0], forces[0], len(cells), time.time_unit, force.force_unit, force.unit)
