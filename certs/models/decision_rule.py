"""Decision rules: how the uncertainty of a measurement counts when it is judged."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class DecisionRule(models.Model):
    """A rule chosen before a test (ISO/IEC 17025 7.8.6, ILAC-G8:09/2019); never changed."""

    class Kind(models.TextChoices):
        SIMPLE = "simple", "simple acceptance, no guard band"
        GUARDED = "guarded", "guard band w = r U"

    code = models.CharField(max_length=16, unique=True)
    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=8, choices=Kind.choices)
    # r in w = r U; empty for simple acceptance.
    multiple = models.CharField(max_length=8, blank=True)
    agreed_with = models.ForeignKey(
        "inventory.Party",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="decision_rules",
    )
    paper = models.CharField(max_length=200, help_text="Where the rule is agreed or laid down.")
    chosen_at = models.DateTimeField()
    chosen_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(
                fields=["name"],
                name="decision_rule_name_once",
                violation_error_message="A decision rule of this name is entered already.",
            ),
            models.CheckConstraint(
                condition=Q(kind="simple", multiple="") | (Q(kind="guarded") & ~Q(multiple="")),
                name="decision_rule_is_whole",
            ),
            models.CheckConstraint(condition=~Q(paper=""), name="decision_rule_has_a_paper"),
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.name}"
