"""Finds the mill's reels that somebody must still accept: unchecked, in doubt, or without a basis.

What a check found is decided when it is made; how a basis is named, on the page of the reel.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db.models import Case, Exists, OuterRef, Q, QuerySet, Subquery, Value, When

from certs.models import ReceivingCheck, StrengthBasis
from inventory.models import Hold, Reel

_IN_DOUBT, _UNCHECKED, _NO_BASIS = range(3)


@dataclass(frozen=True, slots=True)
class ReelToAccept:
    """A reel, its last receiving check if any, and what is still to be done with it.

    `is_in_doubt`: the check does not agree and nobody has decided what that means.
    """

    reel: Reel
    check: ReceivingCheck | None
    is_in_doubt: bool
    lacks_basis: bool


def reels_to_accept() -> QuerySet[Reel]:
    """Return them: in doubt first, then unchecked, then those that only lack a basis."""
    latest = ReceivingCheck.objects.filter(reel=OuterRef("pk")).order_by("-id")
    reels = Reel.objects.filter(origin=Reel.Origin.MILL).annotate(
        last_check=Subquery(latest.values("pk")[:1]),
        last_outcome=Subquery(latest.values("outcome")[:1]),
        decided_at=Subquery(latest.values("hold__released_at")[:1]),
        has_basis=Exists(StrengthBasis.objects.filter(reel=OuterRef("pk"))),
    )
    is_in_doubt = Q(last_outcome=ReceivingCheck.Outcome.DISAGREES, decided_at=None)
    waits = reels.filter(Q(last_check=None) | is_in_doubt | Q(has_basis=False))
    rank = Case(
        When(is_in_doubt, then=Value(_IN_DOUBT)),
        When(last_check=None, then=Value(_UNCHECKED)),
        default=Value(_NO_BASIS),
    )
    return waits.annotate(rank=rank).select_related("mill").order_by("rank", "id")


def with_their_checks(reels: Iterable[Any]) -> list[ReelToAccept]:
    """Tell of each of these reels, as `reels_to_accept` gives them, what is to be done.

    One query more, however many they are.
    """
    listed = list(reels)
    known = ReceivingCheck.objects.select_related("hold").in_bulk(
        [reel.last_check for reel in listed if reel.last_check]
    )
    return [
        ReelToAccept(
            reel=reel,
            check=known.get(reel.last_check),
            is_in_doubt=reel.rank == _IN_DOUBT,
            lacks_basis=not reel.has_basis,
        )
        for reel in listed
    ]


def holds_of_doubt() -> QuerySet[Hold]:
    """Return the standing holds that the last check of a reel in doubt placed."""
    later = ReceivingCheck.objects.filter(
        reel=OuterRef("receiving_check__reel"), pk__gt=OuterRef("receiving_check__pk")
    )
    placed = Hold.objects.filter(released_at=None, receiving_check__isnull=False)
    return placed.exclude(Exists(later))
