"""Assemblies: one or more cut pieces with a termination at their ends."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class Assembly(models.Model):
    """A product of our own making: its strength is ours to show."""

    class Kind(models.TextChoices):
        ONE_LEG = "one_leg", "one-leg sling"
        TWO_LEG = "two_leg", "two-leg sling"
        THREE_LEG = "three_leg", "three-leg sling"
        FOUR_LEG = "four_leg", "four-leg sling"
        ENDLESS = "endless", "endless sling"
        ROPE_WITH_ENDS = "rope_with_ends", "rope with terminations, not a sling"

    class Use(models.TextChoices):
        LIFTING = "lifting", "lifting"
        STATIC = "static", "static suspension, nothing is lifted with it"

    class Convention(models.TextChoices):
        FROM_VERTICAL = "from_vertical", "EN 13414-1, angle from the vertical"
        FROM_HORIZONTAL = "from_horizontal", "United States, angle from the horizontal"

    code = models.CharField(max_length=16, unique=True)
    kind = models.CharField(max_length=16, choices=Kind.choices)
    description = models.CharField(max_length=120, blank=True)
    use = models.CharField(max_length=8, choices=Use.choices, default=Use.LIFTING)
    # By whose convention it is rated; kept with every angle.
    convention = models.CharField(
        max_length=16, choices=Convention.choices, default=Convention.FROM_VERTICAL
    )
    # The day it is placed on the market, where that is known: the law of that day applies.
    market_date = models.DateField(null=True, blank=True)
    # The thinnest pin, hook or edge radius doubled that it will be used on; null: not said.
    bend_mm = models.PositiveIntegerField(null=True, blank=True)
    order_line = models.ForeignKey(
        "inventory.OrderLine",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="assemblies",
    )
    built_at = models.DateTimeField()
    built_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    class Meta:
        verbose_name_plural = "assemblies"

    def __str__(self) -> str:
        return f"assembly {self.code}"


class AssemblyPiece(models.Model):
    """A cut piece built into an assembly; a piece is built in once and stays."""

    assembly = models.ForeignKey(Assembly, on_delete=models.PROTECT, related_name="piece_ties")
    piece = models.OneToOneField(
        "inventory.CutPiece", on_delete=models.PROTECT, related_name="assembly_tie"
    )
    position = models.PositiveIntegerField()
    # Plain rope between ferrules, or between the tails of splices; null: not measured.
    clear_mm = models.PositiveIntegerField(null=True, blank=True)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["assembly", "position"], name="assembly_position_once"),
        ]

    def __str__(self) -> str:
        return f"piece {self.piece_id} in assembly {self.assembly_id}"


class Termination(models.Model):
    """What was fitted to one end of a piece in an assembly."""

    class Kind(models.TextChoices):
        FERRULE_SECURED_EYE = "ferrule_secured_eye", "ferrule-secured eye"
        HAND_SPLICE = "hand_splice", "hand splice"
        SOCKET = "socket", "metal or resin socket"
        SWAGE_TERMINAL = "swage_terminal", "swage terminal"
        WEDGE_SOCKET = "wedge_socket", "wedge socket"
        U_BOLT_GRIPS = "u_bolt_grips", "U-bolt grips"

    class End(models.TextChoices):
        NEAR = "near", "near end"
        FAR = "far", "far end"

    assembly_piece = models.ForeignKey(
        AssemblyPiece, on_delete=models.PROTECT, related_name="terminations"
    )
    end = models.CharField(max_length=4, choices=End.choices)
    kind = models.CharField(max_length=24, choices=Kind.choices)
    operator = models.CharField(max_length=80, blank=True)
    # All round a soft eye; null: no soft eye, or not measured.
    eye_mm = models.PositiveIntegerField(null=True, blank=True)
    note = models.CharField(max_length=120, blank=True)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["assembly_piece", "end"], name="termination_end_once"),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}, {self.get_end_display()}"


class FittingUse(models.Model):
    """Fittings of a lot that went into a termination."""

    termination = models.ForeignKey(Termination, on_delete=models.PROTECT, related_name="fittings")
    lot = models.ForeignKey("inventory.FittingLot", on_delete=models.PROTECT, related_name="uses")
    quantity = models.PositiveIntegerField(default=1)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["termination", "lot"], name="fitting_use_once"),
            models.CheckConstraint(condition=Q(quantity__gt=0), name="fitting_use_uses_some"),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} of lot {self.lot_id}"
