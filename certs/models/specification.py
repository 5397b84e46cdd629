"""Specification tables: published values with edition, source and confidence.

Values are kept as text exactly as printed: a table is evidence, and "1.0" is not "1.00".
"""

from typing import ClassVar, Self

from django.db import models


class TableRow(models.Model):
    """What every row of a specification table carries."""

    # A stable name of the row, made by the loader from its keys.
    key = models.CharField(max_length=200, unique=True)
    source = models.CharField(max_length=300)
    confidence = models.CharField(max_length=80)
    note = models.CharField(max_length=400, blank=True)

    objects: ClassVar[models.Manager[Self]] = models.Manager()

    class Meta:
        abstract = True


class ForceFactor(TableRow):
    """Factors K, C and W of a rope class and core (EN 12385-2, 3.10)."""

    rope_class = models.CharField(max_length=24)
    rope_core = models.CharField(max_length=12, blank=True)
    factor_k = models.CharField(max_length=12)
    factor_c = models.CharField(max_length=12, blank=True)
    factor_w = models.CharField(max_length=12, blank=True)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(
                fields=["rope_class", "rope_core", "source"], name="force_factor_once_per_source"
            ),
        ]

    def __str__(self) -> str:
        return f"K {self.factor_k} for {self.rope_class}-{self.rope_core}"


class TabulatedForce(TableRow):
    """One row of a published table of breaking forces, metric or inch; never recomputed."""

    standard = models.CharField(max_length=60)
    edition = models.CharField(max_length=60, blank=True)
    table = models.CharField(max_length=60, blank=True)
    construction = models.CharField(max_length=40)
    rope_core = models.CharField(max_length=24, blank=True)
    grade = models.CharField(max_length=40)
    finish = models.CharField(max_length=60, blank=True)
    diameter = models.CharField(max_length=16)
    diameter_unit = models.CharField(max_length=4)
    diameter_min = models.CharField(max_length=16, blank=True)
    diameter_max = models.CharField(max_length=16, blank=True)
    diameter_limit_unit = models.CharField(max_length=4, blank=True)
    mass = models.CharField(max_length=16, blank=True)
    mass_unit = models.CharField(max_length=16, blank=True)
    force = models.CharField(max_length=16)
    force_unit = models.CharField(max_length=24)

    class Meta:
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["construction", "diameter"], name="tabulated_force_by_rope"),
        ]

    def __str__(self) -> str:
        return f"{self.standard} {self.table}: {self.diameter} {self.construction} {self.grade}"


class DiameterTolerance(TableRow):
    """Limits of the measured diameter for a range of nominal diameters."""

    what = models.CharField(max_length=80)
    standard = models.CharField(max_length=60)
    from_diameter = models.CharField(max_length=16)
    to_diameter = models.CharField(max_length=16, blank=True)
    unit = models.CharField(max_length=4)
    minimum = models.CharField(max_length=16, blank=True)
    maximum = models.CharField(max_length=16, blank=True)
    limit_unit = models.CharField(max_length=8, blank=True)
    # Which end of the range belongs to it: "from" or "to".
    included_bound = models.CharField(max_length=4)

    def __str__(self) -> str:
        return f"{self.standard}: {self.what} from {self.from_diameter} {self.unit}"


class WireBand(TableRow):
    """How far above its grade a wire's tensile strength may lie (EN 10264-1)."""

    steel = models.CharField(max_length=24)
    wire_from_mm = models.CharField(max_length=12)
    wire_to_mm = models.CharField(max_length=12)
    plus = models.CharField(max_length=12)
    plus_unit = models.CharField(max_length=16)

    def __str__(self) -> str:
        return f"{self.steel} wire from {self.wire_from_mm} mm: +{self.plus} {self.plus_unit}"


class TerminationEfficiency(TableRow):
    """What part of the rope's minimum breaking force a termination keeps."""

    termination = models.CharField(max_length=80)
    standard = models.CharField(max_length=80)
    efficiency = models.CharField(max_length=60)
    scope = models.CharField(max_length=300, blank=True)
    # What the rules compute with: of a printed range its lower end; empty, where none is held.
    kind = models.CharField(max_length=24, blank=True)
    kt_steel_core = models.CharField(max_length=8, blank=True)
    kt_fibre_core = models.CharField(max_length=8, blank=True)
    kt_confidence = models.CharField(max_length=80, blank=True)
    size_min_mm = models.CharField(max_length=12, blank=True)
    size_max_mm = models.CharField(max_length=12, blank=True)

    def __str__(self) -> str:
        return f"{self.termination}, {self.standard}: {self.efficiency}"


class SlingLoad(TableRow):
    """One printed working load limit of a sling table."""

    diameter_mm = models.CharField(max_length=12)
    configuration = models.CharField(max_length=40)
    leg_factor = models.CharField(max_length=12)
    load_t = models.CharField(max_length=12)

    def __str__(self) -> str:
        return f"{self.diameter_mm} mm, {self.configuration}: {self.load_t} t"


class SlingLegFactor(TableRow):
    """How many times its one-leg load a sling carries, by legs and by their angle."""

    legs = models.CharField(max_length=24)
    from_deg = models.CharField(max_length=8, blank=True)
    to_deg = models.CharField(max_length=8, blank=True)
    # From which line the angle is counted; kept with every angle.
    convention = models.CharField(max_length=20)
    leg_factor = models.CharField(max_length=12)

    def __str__(self) -> str:
        return f"{self.legs}, {self.from_deg} to {self.to_deg} degrees: {self.leg_factor}"


class MachineClass(TableRow):
    """Limits of a class of testing machine (ISO 7500-1), in per cent."""

    machine_class = models.CharField(max_length=4)
    accuracy_pct = models.CharField(max_length=12)
    repeatability_pct = models.CharField(max_length=12)
    reversibility_pct = models.CharField(max_length=12)
    zero_pct = models.CharField(max_length=12)
    resolution_pct = models.CharField(max_length=12)
    min_force_in_resolutions = models.CharField(max_length=12)

    def __str__(self) -> str:
        return f"class {self.machine_class}"


class ProofLoadRule(TableRow):
    """How high a proof load a regulation or standard asks for."""

    item = models.CharField(max_length=120)
    proof_load = models.CharField(max_length=120)
    # What the rules compute with; empty, where the text alone is held.
    rule = models.CharField(max_length=40, blank=True)
    rated_by = models.CharField(max_length=40, blank=True)
    is_ceiling = models.CharField(max_length=4, blank=True)
    tiers = models.CharField(max_length=80, blank=True)

    def __str__(self) -> str:
        return f"{self.item}: {self.proof_load}"


class GradeName(TableRow):
    """What is said of a US grade name in metric terms. Information, never a conversion."""

    us_grade = models.CharField(max_length=40)
    metric_grade = models.CharField(max_length=40)
    kind = models.CharField(max_length=60)

    def __str__(self) -> str:
        return f"{self.us_grade}: {self.metric_grade}"


class SteelLimits(TableRow):
    """Limits of the ladle analysis of a steel. `limits` maps a symbol to its printed limit."""

    steel = models.CharField(max_length=60)
    standard = models.CharField(max_length=60)
    limits = models.JSONField(default=dict)

    def __str__(self) -> str:
        return f"{self.steel}, {self.standard}"
