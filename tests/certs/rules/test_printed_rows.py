"""Rows of the small tables, written out a second time from their sources, and what must hold.

The large tables are tried where they are used: the forces against the formula, the sling loads
against Table 4 of EN 13414-1, the documents case by case.
"""

import csv
import math
from decimal import Decimal

import pytest

from certs.rules.proof_load import ProofRefused, proof_load
from certs.rules.rope_grade import grade_information
from tests.certs.rules.tables import (
    FACTORS,
    GRADE_NAMES,
    PROOF_LOADS,
    SPECIFICATION,
    STEEL_LIMITS,
    TERMINATIONS,
    TOLERANCES,
    WIRE_BANDS,
    factor,
)

# Feyrer, Wire Ropes, Table 1.9, after EN 12385: K, C, W. The strands of one layer from memory.
PRINTED_FACTORS = """
    6x7 FC 0.332 0.369 0.345    6x7 IWRC 0.359 0.432 0.384    6x7 WSC 0.388 0.432 0.384
    8x7 FC 0.291 0.335 0.327    8x7 IWRC 0.359 0.439 0.391    6x19 FC 0.33 0.384 0.359
    6x19 IWRC 0.356 0.449 0.4   8x19 FC 0.293 0.349 0.34      8x19 IWRC 0.356 0.457 0.407
    6x36 FC 0.33 0.393 0.367    6x36 IWRC 0.356 0.46 0.409    8x36 FC 0.293 0.357 0.348
    8x36 IWRC 0.356 0.468 0.417 6x35N FC 0.317 0.377 0.352    6x35N IWRC 0.345 0.441 0.392
    6x19M FC 0.307 0.357 0.346  6x19M IWRC 0.332 0.418 0.372  6x19M WSC 0.362 0.418 0.381
    6x37M FC 0.295 0.357 0.346  6x37M IWRC 0.319 0.418 0.381  6x37M WSC 0.346 0.418 0.381
    18x7 FC 0.328 0.408 0.382   18x7 WSC 0.328 0.433 0.401    34x7 FC 0.318 0.416 0.39
    34x7 WSC 0.318 0.428 0.401  1x7 - 0.5443 0.6048 None      1x19 - 0.5253 0.5969 None
    1x37 - 0.5125 0.589 None
"""
# EN 12385-4 as a supplier prints it, API Spec 9A Table C.1, WRTB: from each size on, per cent.
PRINTED_TOLERANCES = {
    ("diameter", "EN 12385-4"): "2:8 4:7 6:6 8:5",
    ("difference of two diameters, all-wire strands", "EN 12385-4"): "2:7 4:6 6:5 8:4",
    ("difference of two diameters, fibre-centred strands", "EN 12385-4"): "4:8 6:7 8:6",
    ("diameter", "API Spec 9A"): "6:6 8:5",
    # 1/8, 3/16 and 5/16 in.
    ("diameter", "WRTB"): "0:8 3.175:7 4.7625:6 7.9375:5",
    ("diameter", "(none found)"): "0:None",
}
# EN 10088-3:2014, ASTM A492, EN ISO 16120-2, EN 10016-4:1994: in per cent; read where
# test_ladle_analysis says so, else from memory.
PRINTED_STEELS = """
    1.4301 X5CrNi18-10: C<=0.07 Si<=1.00 Mn<=2.00 P<=0.045 S<=0.030 Cr17.5-19.5 Ni8.0-10.5 N<=0.10
    1.4307 X2CrNi18-9: C<=0.030 Si<=1.00 Mn<=2.00 P<=0.045 S<=0.030 Cr17.5-19.5 Ni8.0-10.5 N<=0.10
    1.4401 X5CrNiMo17-12-2: C<=0.07 Si<=1.00 Mn<=2.00 P<=0.045 S<=0.030 Cr16.5-18.5 Ni10.0-13.0 \
Mo2.00-2.50 N<=0.10
    1.4404 X2CrNiMo17-12-2: C<=0.030 Si<=1.00 Mn<=2.00 P<=0.045 S<=0.030 Cr16.5-18.5 Ni10.0-13.0 \
Mo2.00-2.50 N<=0.10
    304 (rope wire): C<=0.08 Si<=1.00 Mn<=2.00 P<=0.045 S<=0.030 Cr18.0-20.0 Ni8.0-10.5 N<=0.10
    316 (rope wire): C<=0.08 Si<=1.00 Mn<=2.00 P<=0.045 S<=0.030 Cr16.0-18.0 Ni10.0-14.0 \
Mo2.00-3.00 N<=0.10
    C70D: C0.68-0.73 Si0.10-0.30 Mn0.50-0.80 P<=0.035 S<=0.035 Cr<=0.15 Ni<=0.20 Mo<=0.05 Cu<=0.25 \
Al<=0.01
    C76D: C0.73-0.78 Si0.10-0.30 Mn0.50-0.80 P<=0.035 S<=0.035 Cr<=0.15 Ni<=0.20 Mo<=0.05 Cu<=0.25 \
Al<=0.01
    C82D: C0.80-0.85 Si0.10-0.30 Mn0.50-0.80 P<=0.035 S<=0.035 Cr<=0.15 Ni<=0.20 Mo<=0.05 Cu<=0.25 \
Al<=0.01
    C86D: C0.83-0.88 Si0.10-0.30 Mn0.50-0.80 P<=0.035 S<=0.035 Cr<=0.15 Ni<=0.20 Mo<=0.05 Cu<=0.25 \
Al<=0.01
    C56D2 1.1220: C0.54-0.58 Si0.10-0.30 Mn0.50-0.70 P<=0.020 S<=0.025 Cr<=0.10 Ni<=0.10 Mo<=0.03 \
Cu<=0.15 N<=0.007 Al<=0.01 Cr+Ni+Cu<=0.30 Cu+Sn<=0.15
    C15D 1.0413: C0.12-0.17 Si<=0.30 Mn0.30-0.60 P<=0.035 S<=0.035 Cr<=0.20 Ni<=0.25 Mo<=0.05 \
Cu<=0.30 Al<=0.01
"""
# EN 10264-1:2002 Table 1.
PRINTED_BANDS = {
    "non-alloy": "0.2-0.5:390 0.5-1.0:350 1.0-1.5:320 1.5-2.0:290 2.0-3.5:260 3.5-8.0:250",
    "stainless": "0.2-8.0:15",
}
# ISO 7500-1: q, b, v, f0, a in per cent, least force in steps; q of 0.5 and 1 read, else memory.
PRINTED_CLASSES = """
    0.5: 0.5 0.5 0.75 0.05 0.25 400
    1: 1.0 1.0 1.5 0.1 0.5 200
    2: 2.0 2.0 3.0 0.2 1.0 100
    3: 3.0 3.0 4.5 0.3 1.5 67
"""


def lines(text):
    return [line.strip() for line in text.splitlines() if line.strip()]


def test_factors_are_those_printed():
    held = [f"{row.rope_class} {row.core} {row.K} {row.C} {row.W}" for row in FACTORS]
    assert " ".join(held).split() == PRINTED_FACTORS.split()


# The meaning of the factors (Feyrer, chapter 1): C d2 is the area of metal, so it lies within the
# circle; no rope breaks above its metal area times its grade; none weighs less than its metal laid
# straight (7.85 g/cm3, from memory).
@pytest.mark.parametrize("row", FACTORS, ids=lambda row: f"{row.rope_class} {row.core}")
def test_factors_agree_with_one_another(row):
    assert row.K < row.C < Decimal(str(math.pi / 4))
    assert row.W is None or row.C * Decimal("0.785") < row.W


# Fill and spinning factors of strands, from memory of the older national standard.
@pytest.mark.parametrize(
    ("name", "fill", "spinning"),
    [("1x7", "0.77", "0.90"), ("1x19", "0.76", "0.88"), ("1x37", "0.75", "0.87")],
)
def test_strands_follow_from_fill_and_spinning(name, fill, spinning):
    row = factor(name, "-")
    metal = Decimal(fill) * Decimal(str(math.pi / 4))
    assert round(metal, 4) == row.C
    assert round(metal * Decimal(spinning), 4) == row.K


def test_tolerances_are_those_printed():
    held = {}
    for row in TOLERANCES:
        size = row.from_mm.normalize()
        held.setdefault((row.what, row.standard), []).append(f"{size:f}:{row.max_percent}")
    assert {key: " ".join(parts) for key, parts in held.items()} == PRINTED_TOLERANCES


# A range ends where the next begins, and the last is open: no size falls between two.
@pytest.mark.parametrize("key", PRINTED_TOLERANCES, ids=", ".join)
def test_ranges_of_sizes_leave_no_gap(key):
    rows = [row for row in TOLERANCES if (row.what, row.standard) == key]
    assert [row.to_mm for row in rows[:-1]] == [row.from_mm for row in rows[1:]]
    assert rows[-1].to_mm == (2 if key[1] == "(none found)" else None)
    assert all(row.min_percent in (0, None) for row in rows)


def test_limits_of_steels_are_those_printed():
    held = [
        f"{row.steel}: {' '.join(limit.name + limit.text for limit in row.limits)}"
        for row in STEEL_LIMITS
    ]
    assert held == lines(PRINTED_STEELS)


def test_bands_of_wires_are_those_printed():
    held = {}
    for row in WIRE_BANDS:
        held.setdefault(row.steel, []).append(f"{row.from_mm}-{row.to_mm}:{row.plus}")
    assert {steel: " ".join(parts) for steel, parts in held.items()} == PRINTED_BANDS
    assert {row.plus_unit for row in WIRE_BANDS if row.steel == "stainless"} == {"% of grade"}


def test_machine_classes_are_those_printed():
    with (SPECIFICATION / "iso7500_classes.csv").open(newline="", encoding="utf-8") as sheet:
        rows = list(csv.DictReader(sheet))
    held = [f"{row['class']}: {' '.join(list(row.values())[1:-1])}" for row in rows]
    assert held == lines(PRINTED_CLASSES)
    assert [row["confidence"] for row in rows] == ["q read; others memory"] * 2 + ["memory"] * 2


# Regimes whose text gives no load to compute (2006/42/EC Annex I, from memory; a US form; 29 CFR
# 1919.33 and 1919.79, read) are shown and never applied.
@pytest.mark.parametrize(
    ("item", "words"),
    [
        ("other lifting machinery static / dynamic", "1.25 x / 1.1 x"),
        ("sling proof-load tolerance on that form", "-5 percent / +0 percent"),
        ("wire rope (ship cargo gear)", "SWL <= F/5 (or F/4 when gear SWL > 10 t)"),
        ("wire rope shore-based gear", "safety factor 4"),
    ],
)
def test_regimes_without_a_load_are_told_and_refused(item, words):
    row = PROOF_LOADS[item]
    assert (row.key, row.steps) == ("", ())
    assert words in row.printed
    with pytest.raises(ProofRefused):
        proof_load(rated_t=Decimal(2), row=row, ends=frozenset())


def test_no_other_regime_is_without_a_load():
    assert sum(not row.key for row in PROOF_LOADS.values()) == 4


# Cal. T8 5046(e): 1.5 times the rated load; 2 x 1.5 x 9.81 = 29.43 kN, by hand.
def test_metal_mesh_is_proved_with_half_as_much_again():
    row = PROOF_LOADS["metal mesh sling"]
    proof = proof_load(rated_t=Decimal(2), row=row, ends=frozenset())
    assert proof.unrounded == Decimal("29.43")


# EN 13411-1 (thimbles, from memory) is a component without KT; 30 CFR 57.19025 and 75.1435 (read)
# demand 80 % of an end and do not say that an end has it.
@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("thimble", "component (no KT)"),
        ("hoist load-end attachment (mines)", ">= 0.80 required"),
    ],
)
def test_rows_that_rate_no_end(name, text):
    (row,) = [row for row in TERMINATIONS if row.name == name]
    assert (row.kind, row.kt_steel_core, row.kt_fibre_core) == (None, None, None)
    assert row.printed == text


# What trade texts say of each US name; 1570 and 1770-1960 are common practice without a source.
@pytest.mark.parametrize(
    ("name", "grades"),
    [
        ("PS", ["1570", "1384-1528"]),
        ("IPS", ["1770", "1570", "none", "1591-1754", "1565-1698"]),
        ("EIPS", ["1960", "1860", "1770-1960", "1750-1927"]),
        ("EEIPS", ["2160"]),
    ],
)
def test_every_statement_about_a_us_grade_is_told(name, grades):
    told = " / ".join(grade_information(name, GRADE_NAMES))
    places = [told.index(f": {grade}, ") for grade in grades]
    assert places == sorted(places)
