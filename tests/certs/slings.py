"""Invented slings for tests, built to sizes and for purposes that are given."""

from inventory.models import Assembly, CutPiece
from inventory.services.assemble import FittingAsked, PieceAsked, TerminationAsked, build_assembly
from inventory.services.fittings import receive_fitting_lot
from tests.certs.claims import given_basis, given_factor
from tests.factories import (
    MOMENT,
    given_fitting_lot,
    given_fitting_maker,
    given_person,
    given_piece,
    given_reel,
)

FITTINGS = {
    "ferrule_secured_eye": "ferrule",
    "u_bolt_grips": "grip",
    "socket": "socket",
    "swage_terminal": "terminal",
    "wedge_socket": "wedge_socket",
}


def given_rope(designation="12 6x36WS-IWRC 1770 B sZ", rope_class="6x36", core="IWRC", **facts):
    """A reel with a basis: unless told otherwise 0.356 x 144 x 1770 / 1000 = 90.7 kN."""
    reel = given_reel(designation=designation, **facts)
    given_basis(reel, given_factor(rope_class, core))
    return reel


def given_sling(
    *,
    reel=None,
    legs=1,
    end="ferrule_secured_eye",
    grips=3,
    more=(),
    **facts,
) -> Assembly:
    """A sling of one reel with the same end at both ends of each leg; `more` are other lots.

    `clear_mm` and `eye_mm` are those of each leg and end; all other facts go to the service.
    """
    rope = reel or given_rope()
    clear_mm, eye_mm = facts.pop("clear_mm", None), facts.pop("eye_mm", None)
    pieces: list[CutPiece] = [given_piece(reel=rope) for _ in range(legs)]
    kind_of_lot = FITTINGS.get(end)
    used = [FittingAsked(lot) for lot in more]
    if kind_of_lot:
        lot = given_fitting_lot(kind=kind_of_lot, for_diameter="")
        used = [FittingAsked(lot, grips if kind_of_lot == "grip" else 1), *used]
    ends = [TerminationAsked(place, end, used, eye_mm=eye_mm) for place in ("near", "far")]
    return build_assembly(
        kind=facts.pop("kind", "one_leg"),
        pieces=[PieceAsked(piece, ends, clear_mm=clear_mm) for piece in pieces],
        by=given_person(),
        at=MOMENT,
        **facts,
    )


def given_link(rated_kg):
    """A lot of links with a marked load in kg, None for no mark."""
    return receive_fitting_lot(
        kind="link",
        maker=given_fitting_maker(),
        maker_lot_number="LINK-1",
        description="link for tests",
        material="alloy steel",
        for_diameter="",
        quantity=20,
        rated_kg=rated_kg,
        by=given_person(),
        at=MOMENT,
    )
