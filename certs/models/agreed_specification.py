"""Values that two parties agreed on, where no standard gives one or another value is wanted."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class AgreedSpecification(models.Model):
    """Entered by a person from a paper that both parties signed; never changed afterwards."""

    name = models.CharField(max_length=80)
    edition = models.CharField(max_length=40)
    agreed_with = models.ForeignKey(
        "inventory.Party", on_delete=models.PROTECT, related_name="agreed_specifications"
    )
    paper = models.CharField(max_length=200, help_text="The paper that holds the agreement.")
    designation = models.CharField(max_length=80)
    # A factor for the formula, or a force; the rest is optional.
    factor_k = models.CharField(max_length=12, blank=True)
    force_n = models.PositiveBigIntegerField(null=True, blank=True)
    factor_w = models.CharField(max_length=12, blank=True)
    diameter_minus_pct = models.CharField(max_length=8, blank=True)
    diameter_plus_pct = models.CharField(max_length=8, blank=True)
    mass_minus_pct = models.CharField(max_length=8, blank=True)
    mass_plus_pct = models.CharField(max_length=8, blank=True)
    as_given = models.JSONField(default=dict, blank=True)
    entered_at = models.DateTimeField()
    entered_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=(~Q(factor_k="") & Q(force_n=None))
                | Q(factor_k="", force_n__isnull=False, force_n__gt=0),
                name="agreed_specification_names_one_basis",
                violation_error_message="Give either a factor K or a breaking force, not both.",
            ),
            models.UniqueConstraint(
                fields=["name"],
                name="agreed_specification_name_once",
                violation_error_message="An agreed specification of this name is entered already.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name} ({self.edition})"


class StrengthBasis(models.Model):
    """On what the breaking force of a reel is certified. The last one named stands."""

    class Kind(models.TextChoices):
        FACTOR = "factor", "formula K d² Rr with a named factor"
        TABLE = "table", "row of a published table"
        DECLARED = "declared", "the maker's declared value"
        AGREED = "agreed", "agreed specification"

    reel = models.ForeignKey(
        "inventory.Reel", on_delete=models.PROTECT, related_name="strength_bases"
    )
    kind = models.CharField(max_length=8, choices=Kind.choices)
    factor = models.ForeignKey(
        "certs.ForceFactor", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    tabulated = models.ForeignKey(
        "certs.TabulatedForce", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    agreed = models.ForeignKey(
        AgreedSpecification, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    reason = models.CharField(max_length=300)
    named_at = models.DateTimeField()
    named_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=(
                    Q(kind="factor", factor__isnull=False, tabulated=None, agreed=None)
                    | Q(kind="table", factor=None, tabulated__isnull=False, agreed=None)
                    | Q(kind="declared", factor=None, tabulated=None, agreed=None)
                    | Q(kind="agreed", factor=None, tabulated=None, agreed__isnull=False)
                ),
                name="strength_basis_is_one_thing",
            ),
        ]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["reel", "-id"], name="strength_basis_latest"),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} for reel {self.reel_id}"
