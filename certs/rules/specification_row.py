"""The rows of the specification tables that give a rope its breaking force and mass.

It reads the words of a row into exact values and judges nothing; which row fits a rope is decided
by `rope_match`, what follows from it by `breaking_force` and `length_mass`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from certs.rules.derived import Source
from inventory.rules.units import diameter_nm

NM_PER_MM = 10**6


@dataclass(frozen=True, slots=True)
class Factor:
    """Factors of one rope class and core: K for force, C for metal area, W for mass.

    C and W are None where no value is held.
    """

    rope_class: str
    core: str
    K: Decimal
    C: Decimal | None
    W: Decimal | None
    source: Source

    @classmethod
    def read(cls, row: Mapping[str, str]) -> "Factor":
        """Read a row of the factor table; an empty cell is a value not held."""
        return cls(
            rope_class=row["class"],
            core=row["core"],
            K=Decimal(row["K"]),
            C=decimal_or_none(row["C"]),
            W=decimal_or_none(row["W"]),
            source=source_of(row),
        )


@dataclass(frozen=True, slots=True)
class TableRow:
    """One line of a published table; figures stay in the writing they were printed in."""

    standard: str
    edition: str
    table: str
    construction: str
    core: str
    grade: str
    finish: str
    diameter: str
    diameter_unit: str
    mbf: str
    mbf_unit: str
    mass: str
    mass_unit: str
    dia_min: str
    dia_max: str
    dia_unit: str
    source: Source

    @classmethod
    def read(cls, row: Mapping[str, str]) -> "TableRow":
        """Read a row of the published force tables."""
        return cls(
            standard=row["standard"],
            edition=row["edition"],
            table=row["table"],
            construction=row["construction"],
            core=row["core"],
            grade=row["grade"],
            finish=row["finish"],
            diameter=row["nominal_diameter"],
            diameter_unit=row["diameter_unit"],
            mbf=row["mbf"],
            mbf_unit=row["mbf_unit"],
            mass=row["mass"],
            mass_unit=row["mass_unit"],
            dia_min=row["dia_min"],
            dia_max=row["dia_max"],
            dia_unit=row["dia_limit_unit"],
            source=source_of(row, edition=row["edition"]),
        )

    @property
    def diameter_mm(self) -> Decimal:
        """Give the nominal diameter in millimetres, exactly."""
        return size_mm(self.diameter, unit=self.diameter_unit)

    @property
    def name(self) -> str:
        """Name the table as a reader would cite it."""
        titled = f"{self.standard} ({self.edition})"
        if self.table == "-":
            return titled
        return f"{titled} Table {self.table.removeprefix('Table ')}"


def source_of(row: Mapping[str, str], *, edition: str = "") -> Source:
    """Read the source columns of any specification row."""
    return Source(
        name=row["source"],
        edition=edition,
        confidence=row["confidence"],
        note=row.get("note", ""),
    )


def decimal_or_none(text: str) -> Decimal | None:
    """Read a figure exactly; an empty cell is a value not held, never nought."""
    return Decimal(text) if text else None


def size_mm(text: str, *, unit: str) -> Decimal:
    """Read a size such as 12.5, 3/16 or 1-3/8 into exact millimetres; `0` is an open lower end."""
    if text == "0":
        return Decimal(0)
    return Decimal(diameter_nm(f"{text} {unit}")) / NM_PER_MM
