"""What a hold is on. The rows should be loaded with the hold; see `inventory.queries.registers`."""

from inventory.models import Assembly, CutPiece, FittingLot, Heat, Hold, Reel, TestingMachine
from inventory.models.hold import SUBJECTS
from inventory.queries.find import find_thing

Holdable = Heat | Reel | FittingLot | TestingMachine | CutPiece | Assembly


def subject_of(hold: Hold) -> Holdable:
    """Return the one thing that the hold is on."""
    return next(
        thing for thing in (getattr(hold, name) for name in SUBJECTS) if isinstance(thing, Holdable)
    )


def holdable_of_code(code: str) -> Holdable | None:
    """Return the thing of this code if it can be put on hold."""
    thing = find_thing(code)
    return thing if isinstance(thing, Holdable) else None
