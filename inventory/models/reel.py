"""Reels: any package of rope, with its metre scale and where it was wound from.

Metre 0 is the free end as received. A reel of the mill has heats of its own; a reel wound here
has them through the cut piece that it was wound from.
"""

from typing import ClassVar

from django.db import models
from django.db.models import F, Q


class Reel(models.Model):
    """A length of rope in one piece. Only its location may change after it is recorded."""

    class Origin(models.TextChoices):
        MILL = "mill", "received from the mill"
        REWIND = "rewind", "rewound here"
        RETURN = "return", "returned by a customer"

    code = models.CharField(max_length=16, unique=True)
    origin = models.CharField(max_length=8, choices=Origin.choices)
    # Rope designation of EN 12385-2: canonical text, and its parts for searching.
    designation = models.CharField(max_length=80)
    diameter_nm = models.PositiveBigIntegerField()
    construction = models.CharField(max_length=24)
    rope_core = models.CharField(max_length=12, blank=True)
    grade = models.CharField(max_length=12)
    finish = models.CharField(max_length=8)
    lay = models.CharField(max_length=4)
    assumed_parts = models.JSONField(default=list, blank=True)

    mill = models.ForeignKey("inventory.Party", on_delete=models.PROTECT, related_name="reels")
    mill_reel_number = models.CharField(max_length=60, blank=True)
    mill_document = models.ForeignKey(
        "inventory.MillDocument",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="reels",
    )
    length_mm = models.PositiveBigIntegerField()
    location = models.CharField(max_length=60, blank=True)
    # What the maker marked on the reel or wrote in his document.
    marked_grade = models.CharField(max_length=12, blank=True)
    declared_force_n = models.PositiveBigIntegerField(null=True, blank=True)
    declared_mass_g_per_100m = models.PositiveBigIntegerField(null=True, blank=True)
    # Over one turn of a strand round the rope, as its maker states it; null: he does not.
    lay_length_um = models.PositiveBigIntegerField(null=True, blank=True)
    marking = models.CharField(max_length=200, blank=True)

    # What a person typed, where its unit is not that of the record: field to text.
    as_given = models.JSONField(default=dict, blank=True)

    wound_from = models.OneToOneField(
        "inventory.CutPiece",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="wound_reel",
    )
    # The stretch of the parent reel, in the parent's metres, that this reel holds.
    origin_from_mm = models.PositiveBigIntegerField(null=True, blank=True)
    origin_to_mm = models.PositiveBigIntegerField(null=True, blank=True)
    # Winding turns the rope round: this reel's metre x is the parent's `origin_to - x`.
    is_turned = models.BooleanField(default=False)

    received_at = models.DateTimeField()
    received_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(condition=Q(length_mm__gt=0), name="reel_has_length"),
            models.CheckConstraint(condition=Q(diameter_nm__gt=0), name="reel_has_diameter"),
            models.CheckConstraint(
                condition=(
                    Q(origin="mill", wound_from=None, origin_from_mm=None, origin_to_mm=None)
                    | Q(
                        origin__in=["rewind", "return"],
                        wound_from__isnull=False,
                        origin_from_mm__isnull=False,
                        origin_to_mm__isnull=False,
                        origin_to_mm__gt=F("origin_from_mm"),
                        length_mm=F("origin_to_mm") - F("origin_from_mm"),
                    )
                ),
                name="reel_origin_is_whole",
            ),
        ]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["construction", "diameter_nm"], name="reel_by_rope"),
        ]

    def __str__(self) -> str:
        return f"reel {self.code}: {self.designation}"


class ReelHeat(models.Model):
    """A heat in the wires of a mill's reel: over its whole length, or over one stretch."""

    reel = models.ForeignKey(Reel, on_delete=models.PROTECT, related_name="heat_ties")
    heat = models.ForeignKey("inventory.Heat", on_delete=models.PROTECT, related_name="reel_ties")
    from_mm = models.PositiveBigIntegerField(null=True, blank=True)
    to_mm = models.PositiveBigIntegerField(null=True, blank=True)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                # A comparison with nothing is neither true nor false, and then passes.
                condition=Q(from_mm=None, to_mm=None)
                | Q(from_mm__isnull=False, to_mm__isnull=False, to_mm__gt=F("from_mm")),
                name="reel_heat_stretch_is_whole",
            ),
            models.UniqueConstraint(
                fields=["reel", "heat"],
                condition=Q(from_mm=None),
                name="reel_heat_tied_once_whole",
            ),
            models.UniqueConstraint(
                fields=["reel", "heat", "from_mm"],
                condition=Q(from_mm__isnull=False),
                name="reel_heat_tied_once_by_stretch",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.heat_id} in {self.reel_id}"
