"""Names the specification tables for reading: title, what they are for, and their columns.

Values are shown as printed. What they mean in a derivation is said by the rules.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from django.db.models import Q, QuerySet

from certs.models import (
    AgreedSpecification,
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


@dataclass(frozen=True, slots=True)
class ShownColumn:
    """A field of the table and the word above it.

    `unit_field` holds the unit of its value, `note_fields` what is said in small beside it.
    """

    field: str
    word: str
    unit_field: str = ""
    is_number: bool = False
    note_fields: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SpecificationTable:
    """One table as a person reads it; every row also has source, confidence and note."""

    slug: str
    title: str
    about: str
    model: type[TableRow]
    columns: tuple[ShownColumn, ...]


def _value(field: str, word: str, unit_field: str = "") -> ShownColumn:
    return ShownColumn(field, word, unit_field, is_number=True)


_TABLES = (
    SpecificationTable(
        "breaking-force-factors",
        "Factors of breaking force and mass",
        "K, C and W by rope class and core: force K d² Rr / 1000, mass W d² (EN 12385-2).",
        ForceFactor,
        (
            ShownColumn("rope_class", "Class"),
            ShownColumn("rope_core", "Core"),
            _value("factor_k", "K"),
            _value("factor_c", "C"),
            _value("factor_w", "W, kg/100 m mm²"),
        ),
    ),
    SpecificationTable(
        "breaking-forces",
        "Published breaking forces",
        "Rows of published tables, metric and inch, as printed; never computed anew.",
        TabulatedForce,
        (
            ShownColumn("standard", "Standard", note_fields=("table", "edition")),
            _value("diameter", "Diameter", "diameter_unit"),
            ShownColumn("construction", "Construction", note_fields=("rope_core",)),
            ShownColumn("grade", "Grade", note_fields=("finish",)),
            _value("force", "Breaking force", "force_unit"),
            _value("mass", "Mass", "mass_unit"),
        ),
    ),
    SpecificationTable(
        "diameter-tolerances",
        "Limits of the measured diameter",
        "How far the measured diameter may lie from the nominal one.",
        DiameterTolerance,
        (
            ShownColumn("standard", "Standard"),
            ShownColumn("what", "Rope"),
            _value("from_diameter", "From", "unit"),
            _value("to_diameter", "To", "unit"),
            _value("minimum", "Least", "limit_unit"),
            _value("maximum", "Most", "limit_unit"),
        ),
    ),
    SpecificationTable(
        "wire-bands",
        "Bands of wire strength",
        "How far above its grade the tensile strength of a wire may lie (EN 10264-1).",
        WireBand,
        (
            ShownColumn("steel", "Steel"),
            _value("wire_from_mm", "Wire from, mm"),
            _value("wire_to_mm", "To, mm"),
            _value("plus", "Above the grade", "plus_unit"),
        ),
    ),
    SpecificationTable(
        "terminations",
        "Terminations",
        "What part of the rope’s minimum breaking force a termination keeps.",
        TerminationEfficiency,
        (
            ShownColumn("termination", "Termination"),
            ShownColumn("standard", "Standard"),
            ShownColumn("efficiency", "Efficiency"),
            ShownColumn("scope", "Scope"),
        ),
    ),
    SpecificationTable(
        "sling-loads",
        "Printed working load limits of slings",
        "As printed; where a printed value is lower than the formula’s, it governs.",
        SlingLoad,
        (
            _value("diameter_mm", "Diameter, mm"),
            ShownColumn("configuration", "Configuration"),
            _value("leg_factor", "Leg factor"),
            _value("load_t", "Working load limit, t"),
        ),
    ),
    SpecificationTable(
        "sling-leg-factors",
        "Leg factors of slings",
        "How many times its one-leg load a sling carries, by legs and their angle.",
        SlingLegFactor,
        (
            ShownColumn("legs", "Legs"),
            _value("from_deg", "From, °"),
            _value("to_deg", "To, °"),
            ShownColumn("convention", "Angle counted from"),
            _value("leg_factor", "Leg factor"),
        ),
    ),
    SpecificationTable(
        "machine-classes",
        "Classes of testing machines",
        "Limits of error by class, in per cent of the force (ISO 7500-1).",
        MachineClass,
        (
            ShownColumn("machine_class", "Class"),
            _value("accuracy_pct", "Accuracy q"),
            _value("repeatability_pct", "Repeatability b"),
            _value("reversibility_pct", "Reversibility v"),
            _value("zero_pct", "Zero f0"),
            _value("resolution_pct", "Resolution a"),
        ),
    ),
    SpecificationTable(
        "proof-loads",
        "Proof loads",
        "How high a proof load a regulation or standard asks for.",
        ProofLoadRule,
        (
            ShownColumn("item", "Item"),
            ShownColumn("proof_load", "Proof load"),
            ShownColumn("rated_by", "Of which load"),
        ),
    ),
    SpecificationTable(
        "grade-names",
        "US grade names",
        "What is said of them in metric terms: information, never a conversion.",
        GradeName,
        (
            ShownColumn("us_grade", "US name"),
            ShownColumn("metric_grade", "Said to be"),
            ShownColumn("kind", "Kind of statement"),
        ),
    ),
    SpecificationTable(
        "steels",
        "Ladle analyses of steels",
        "Limits of the analysis by steel, in per cent by mass.",
        SteelLimits,
        (
            ShownColumn("steel", "Steel"),
            ShownColumn("standard", "Standard"),
            ShownColumn("limits", "Limits"),
        ),
    ),
)
TABLES: Mapping[str, SpecificationTable] = MappingProxyType({t.slug: t for t in _TABLES})


def rows_of(table: SpecificationTable, *, words: str = "") -> QuerySet[TableRow]:
    """Give the rows of a table; each of the words must stand in one of its texts."""
    texts = {field.name for field in table.model._meta.fields if field.name != "limits"}
    searched = sorted((texts - {"id", "key"}) | {"source"})
    rows = table.model.objects.order_by("id")
    for word in words.split():
        condition = Q()
        for name in searched:
            condition |= Q(**{f"{name}__icontains": word})
        rows = rows.filter(condition)
    return rows


def row_counts() -> dict[str, int]:
    """Count the rows of every table."""
    return {slug: table.model.objects.count() for slug, table in TABLES.items()}


def agreed_specifications() -> QuerySet[AgreedSpecification]:
    """Give what was agreed on with other parties."""
    return AgreedSpecification.objects.select_related("agreed_with", "entered_by").order_by("name")
