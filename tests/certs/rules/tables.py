"""The product's specification tables, read once for the tests of the rules."""

import csv
from pathlib import Path

from certs.rules.proof_load import ProofRow
from certs.rules.rope_grade import GradeName, WireBand
from certs.rules.rope_match import COUNTED_WITH_CORE
from certs.rules.sling_legs import LegFactor
from certs.rules.specification_row import Factor, TableRow
from certs.rules.steel_limits import SteelLimits
from certs.rules.termination import TerminationRow
from certs.rules.tolerance import DiameterTolerance
from certs.rules.working_load import PublishedLoad
from inventory.rules.rope_designation import RopeDesignation, canonical_diameter

SPECIFICATION = Path(__file__).parents[3] / "fixtures" / "specification"


def _read(name, reader):
    with (SPECIFICATION / name).open(newline="", encoding="utf-8") as sheet:
        return tuple(reader(row) for row in csv.DictReader(sheet))


FACTORS = _read("breaking_force_factors.csv", Factor.read)
TABLE_ROWS = _read("breaking_force_tables.csv", TableRow.read)
TOLERANCES = _read("diameter_tolerance.csv", DiameterTolerance.read)
WIRE_BANDS = _read("wire_tensile_band.csv", WireBand.read)
GRADE_NAMES = _read("grade_names.csv", GradeName.read)
STEEL_LIMITS = _read("chem_limits.csv", SteelLimits.read)
TERMINATIONS = _read("terminations.csv", TerminationRow.read)
LEG_FACTORS = _read("sling_leg_factors.csv", LegFactor.read)
PUBLISHED_LOADS = _read("sling_wll_table.csv", PublishedLoad.read)
PROOF_LOADS = {row.item: row for row in _read("proof_loads.csv", ProofRow.read)}

API_ROWS = tuple(row for row in TABLE_ROWS if row.standard == "API Spec 9A")
API_METRIC = tuple(row for row in API_ROWS if row.diameter_unit == "mm")
API_INCH = tuple(row for row in API_ROWS if row.diameter_unit == "in")


def factor(rope_class, core):
    return next(row for row in FACTORS if (row.rope_class, row.core) == (rope_class, core))


def rope(size="12", make="6x7-FC", grade="1770", unit="mm"):
    construction, _, core = make.partition("-")
    return RopeDesignation(
        diameter=canonical_diameter(size, unit),
        diameter_unit=unit,
        construction=construction,
        core=core,
        grade=grade,
        finish="U",
        lay="Z" if construction.startswith("1x") else "sZ",
    )


def rope_of(row):
    """Give a rope the row speaks of; where the row states no grade, the rope's own is 1770."""
    construction = COUNTED_WITH_CORE.get(row.construction, row.construction)
    core = row.core.removeprefix("7x7 ").removesuffix("-")
    grade = row.grade if " " not in row.grade else "1770"
    return rope(row.diameter, f"{construction}-{core}", grade, row.diameter_unit)


def spoken(row):
    return f"{row.standard} {row.construction}-{row.core} {row.grade} {row.diameter}"
