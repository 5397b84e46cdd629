"""Parties: the mills that make rope, the makers of fittings, the customers who buy."""

from typing import ClassVar

from django.db import models

from inventory.rules.language import Language


class Party(models.Model):
    """A firm we buy from or sell to. Its code, never its name, goes into the journal."""

    class Kind(models.TextChoices):
        MILL = "mill", "mill"
        FITTING_MAKER = "fitting_maker", "maker of fittings"
        CUSTOMER = "customer", "customer"

    code = models.CharField(max_length=16, unique=True)
    kind = models.CharField(max_length=16, choices=Kind.choices)
    name = models.CharField(max_length=120)
    address = models.TextField(blank=True)
    # In which papers and letters are written to it.
    language = models.CharField(
        max_length=8,
        choices=[(one.value, one.own_name) for one in Language],
        default=Language.ENGLISH.value,
    )
    registered_at = models.DateTimeField()

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(
                fields=["kind", "name"],
                name="party_name_once_per_kind",
                violation_error_message="A party of this kind and name is registered already.",
            ),
            models.CheckConstraint(condition=~models.Q(name=""), name="party_has_a_name"),
            models.CheckConstraint(
                condition=models.Q(language__in=[one.value for one in Language]),
                name="party_language_is_known",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name} ({self.code})"
