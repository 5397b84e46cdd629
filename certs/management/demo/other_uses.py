"""Plays two orders that are no usual European sling: a static suspension, an American sling."""

from datetime import date

from certs.management.demo import paperwork
from certs.management.demo.sales import supply
from certs.management.demo.stage import Stage
from certs.models import Certificate
from inventory.models import Assembly, FittingLot, Termination
from inventory.services.assemble import (
    FittingAsked,
    PieceAsked,
    TerminationAsked,
    build_assembly,
)
from inventory.services.fittings import receive_fitting_lot

GRIPS_AT_AN_END = 4
# The yard keeps its slings in whole tonnes: somewhat below what is derived.
MARKED_KG = 5000
MARKET_DAY = date(2026, 10, 9)


def build_for_other_uses(stage: Stage) -> None:
    """Receive grips and links, build both, and certify them by declaration."""
    _receive(stage, "grip-10", FittingLot.Kind.GRIP, "U-bolt grip for 10 mm rope", "10", None)
    _receive(stage, "link-8t", FittingLot.Kind.LINK, "master link, marked 8 t", "", 8000)
    _suspend(stage)
    _build_american(stage)
    for key, customer, marked_kg in (
        ("banner", "fennick", None),
        ("16 mm american", "sundelow", MARKED_KG),
    ):
        paperwork.certify_assembly(
            stage,
            key,
            customer=customer,
            kind=Certificate.DocumentKind.DECLARATION,
            witnesses=(),
            marked_kg=marked_kg,
        )


def _receive(
    stage: Stage, key: str, kind: str, description: str, diameter: str, rated_kg: int | None
) -> None:
    stage.lots[key] = receive_fitting_lot(
        kind=kind,
        maker=stage.parties["quennap"],
        maker_lot_number=f"Q-{key}",
        description=description,
        material="galvanised steel",
        for_diameter=diameter,
        quantity=40,
        rated_kg=rated_kg,
        by=stage.people["stores"],
        at=stage.calendar.moment(),
    )


def _suspend(stage: Stage) -> None:
    """A rope that holds a banner: U-bolt grips may end it, as nothing is lifted with it."""
    grips = [FittingAsked(stage.lots["grip-10"], GRIPS_AT_AN_END)]
    ends = [
        TerminationAsked(end.value, Termination.Kind.U_BOLT_GRIPS.value, grips, operator="Bench 1")
        for end in Termination.End
    ]
    piece = PieceAsked(supply(stage, stage.reels["K-2311"], length_m=14), ends)
    stage.assemblies["banner"] = build_assembly(
        kind=Assembly.Kind.ROPE_WITH_ENDS,
        pieces=[piece],
        description="Holds a banner; lifts nothing",
        use=Assembly.Use.STATIC,
        market_date=MARKET_DAY,
        by=stage.people["bench"],
        at=stage.calendar.moment(),
    )


def _build_american(stage: Stage) -> None:
    """Two legs rated by American practice, measured, with the pin that they will hang on."""
    fittings = [FittingAsked(stage.lots[key]) for key in ("ferrule-16", "thimble-16", "link-8t")]
    eye = Termination.Kind.FERRULE_SECURED_EYE.value
    ends = [
        TerminationAsked(end.value, eye, fittings, operator="Press 2") for end in Termination.End
    ]
    stage.assemblies["16 mm american"] = build_assembly(
        kind=Assembly.Kind.TWO_LEG,
        pieces=[
            PieceAsked(supply(stage, stage.reels["K-2242"], length_m=3), ends, clear_mm=2350)
            for _ in range(2)
        ],
        description="For an American yard",
        convention=Assembly.Convention.FROM_HORIZONTAL,
        market_date=MARKET_DAY,
        bend_mm=40,
        by=stage.people["bench"],
        at=stage.calendar.moment(),
    )
