"""Tells the pages of a reel what its receiving check found; what exists knows no claims itself."""

from dataclasses import dataclass
from typing import Final

from django.http import HttpRequest

from certs.models import ReceivingCheck
from certs.pages.found_points import OUTCOME_SHAPES
from certs.queries.receiving_checks import check_standings
from inventory.models import Person
from inventory.queries.families import mill_reel_of
from inventory.queries.things import reel_of_code

_VIEWS: Final = frozenset({"inventory:reel", "certs:reel_strength"})


@dataclass(frozen=True, slots=True)
class ReceivingNote:
    """What is to be said of a reel's receiving check; `check` is None where none was made."""

    reel_code: str
    check: ReceivingCheck | None
    word: str
    shape: str
    text: str


def receiving_note(request: HttpRequest) -> dict[str, ReceivingNote | None]:
    """Give `receiving`: what the last check of the mill's reel found; None on other pages."""
    match = request.resolver_match
    if match is None or match.view_name not in _VIEWS or not isinstance(request.user, Person):
        return {"receiving": None}
    reel = reel_of_code(match.kwargs["code"])
    return {"receiving": _note(mill_reel_of(reel).code) if reel is not None else None}


def _note(code: str) -> ReceivingNote:
    (standing,) = check_standings([code])
    check = standing.check
    if check is None:
        return ReceivingNote(code, None, "not checked", "wait", standing.text)
    shape = OUTCOME_SHAPES[check.outcome]
    if standing.is_met and check.hold is not None:
        return ReceivingNote(code, check, "accepted by decision", "good", standing.text)
    return ReceivingNote(code, check, check.get_outcome_display(), shape, standing.text)
