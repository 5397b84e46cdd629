"""Which column of a specification file is which field of which table, and what names a row.

One list, used both ways: by the loader from file to table, and by the queries from table back to
the columns that the rules read.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from certs.models import (
    DiameterTolerance,
    ForceFactor,
    GradeName,
    MachineClass,
    ProofLoadRule,
    SlingLegFactor,
    SlingLoad,
    SteelLimits,
    TabulatedForce,
    TerminationEfficiency,
    WireBand,
)
from certs.models.specification import TableRow

SYMBOLS = ("C", "Si", "Mn", "P", "S", "Cr", "Ni", "Mo", "Cu", "N", "other")
_SOURCED = MappingProxyType(
    {"source": "source", "confidence": "confidence", "note": "note"},
)


@dataclass(frozen=True, slots=True)
class TableFile:
    """One file and the table it fills.

    `columns` maps a field to the column it comes from; `key` lists the columns that name a row;
    `constant` holds fields that no column gives.
    """

    file_name: str
    model: type[TableRow]
    columns: Mapping[str, str]
    key: tuple[str, ...]
    constant: Mapping[str, str] = field(default_factory=dict)

    def row_key(self, row: Mapping[str, str]) -> str:
        """Give the stable name of a row of the file."""
        return " | ".join(row[column] for column in self.key)

    def fields(self, row: Mapping[str, str]) -> dict[str, object]:
        """Give the values of the table's fields for a row of the file, as printed."""
        found: dict[str, object] = {
            name: row.get(column, "") for name, column in self.columns.items()
        }
        if self.model is SteelLimits:
            # Which of the limits were read is said limit by limit, beside them.
            found["limits"] = {name: row[name] for name in (*SYMBOLS, "read") if row[name]}
        return found | dict(self.constant)

    def as_read(self, row: TableRow) -> dict[str, str]:
        """Give a row of the table back in the columns of the file, for the rules to read."""
        return {column: str(getattr(row, name)) for name, column in self.columns.items()}


FORCE_FACTORS = TableFile(
    "breaking_force_factors.csv",
    ForceFactor,
    {
        **_SOURCED,
        "rope_class": "class",
        "rope_core": "core",
        "factor_k": "K",
        "factor_c": "C",
        "factor_w": "W",
    },
    key=("class", "core", "source"),
)
TABULATED_FORCES = TableFile(
    "breaking_force_tables.csv",
    TabulatedForce,
    {
        **_SOURCED,
        "standard": "standard",
        "edition": "edition",
        "table": "table",
        "construction": "construction",
        "rope_core": "core",
        "grade": "grade",
        "finish": "finish",
        "diameter": "nominal_diameter",
        "diameter_unit": "diameter_unit",
        "diameter_min": "dia_min",
        "diameter_max": "dia_max",
        "diameter_limit_unit": "dia_limit_unit",
        "mass": "mass",
        "mass_unit": "mass_unit",
        "force": "mbf",
        "force_unit": "mbf_unit",
    },
    key=(
        "standard",
        "edition",
        "table",
        "construction",
        "core",
        "grade",
        "finish",
        "nominal_diameter",
        "diameter_unit",
    ),
)
DIAMETER_TOLERANCES = TableFile(
    "diameter_tolerance.csv",
    DiameterTolerance,
    {
        **_SOURCED,
        "what": "what",
        "standard": "standard",
        "from_diameter": "from",
        "to_diameter": "to",
        "unit": "unit",
        "minimum": "min",
        "maximum": "max",
        "limit_unit": "limit_unit",
        "included_bound": "included_bound",
    },
    key=("standard", "what", "from", "unit"),
)
WIRE_BANDS = TableFile(
    "wire_tensile_band.csv",
    WireBand,
    {
        **_SOURCED,
        "steel": "steel",
        "wire_from_mm": "wire_from_mm",
        "wire_to_mm": "wire_to_mm",
        "plus": "plus",
        "plus_unit": "plus_unit",
    },
    key=("source", "steel", "wire_from_mm"),
)
TERMINATIONS = TableFile(
    "terminations.csv",
    TerminationEfficiency,
    {
        "termination": "termination",
        "standard": "standard",
        # The file's standard is its source.
        "source": "standard",
        "confidence": "confidence",
        "efficiency": "efficiency",
        "scope": "scope_or_limits",
        "kind": "kind",
        "kt_steel_core": "kt_steel_core",
        "kt_fibre_core": "kt_fibre_core",
        "kt_confidence": "kt_confidence",
        "size_min_mm": "size_min_mm",
        "size_max_mm": "size_max_mm",
    },
    key=("standard", "termination"),
)
SLING_LOADS = TableFile(
    "sling_wll_table.csv",
    SlingLoad,
    {
        **_SOURCED,
        "diameter_mm": "nominal_diameter_mm",
        "configuration": "configuration",
        "leg_factor": "leg_factor_KL",
        "load_t": "wll_t_printed",
    },
    key=("source", "nominal_diameter_mm", "configuration"),
)
LEG_FACTORS = TableFile(
    "sling_leg_factors.csv",
    SlingLegFactor,
    {
        **_SOURCED,
        "legs": "legs",
        "from_deg": "from_deg",
        "to_deg": "to_deg",
        "convention": "convention",
        "leg_factor": "leg_factor_KL",
    },
    key=("source", "legs", "from_deg", "convention"),
)
MACHINE_CLASSES = TableFile(
    "iso7500_classes.csv",
    MachineClass,
    {
        "confidence": "confidence",
        "machine_class": "class",
        "accuracy_pct": "accuracy_q_pct",
        "repeatability_pct": "repeatability_b_pct",
        "reversibility_pct": "reversibility_v_pct",
        "zero_pct": "zero_f0_pct",
        "resolution_pct": "resolution_a_pct",
        "min_force_in_resolutions": "min_force_in_resolutions",
    },
    key=("class",),
    constant={"source": "ISO 7500-1:2015"},
)
PROOF_LOADS = TableFile(
    "proof_loads.csv",
    ProofLoadRule,
    {
        **_SOURCED,
        "item": "item",
        "proof_load": "proof_load",
        "rule": "key",
        "rated_by": "rated_by",
        "is_ceiling": "is_ceiling",
        "tiers": "tiers",
    },
    key=("source", "item"),
)
GRADE_NAMES = TableFile(
    "grade_names.csv",
    GradeName,
    {**_SOURCED, "us_grade": "us_grade", "metric_grade": "metric_grade", "kind": "kind"},
    key=("us_grade", "metric_grade", "source"),
)
STEEL_LIMITS = TableFile(
    "chem_limits.csv",
    SteelLimits,
    {
        "steel": "grade",
        "standard": "standard",
        # The file's standard is its source.
        "source": "standard",
        "confidence": "confidence",
    },
    key=("standard", "grade"),
)

TABLE_FILES = (
    FORCE_FACTORS,
    TABULATED_FORCES,
    DIAMETER_TOLERANCES,
    WIRE_BANDS,
    TERMINATIONS,
    SLING_LOADS,
    LEG_FACTORS,
    MACHINE_CLASSES,
    PROOF_LOADS,
    GRADE_NAMES,
    STEEL_LIMITS,
)
