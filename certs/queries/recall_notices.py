"""Finds the letters of recalls: of one hold, and those that nobody has answered."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import QuerySet

from certs.models import RecallNotice
from certs.queries.recall_of_hold import CustomerReached, codes_in, customers_reached
from certs.queries.trace_shapes import Recall
from inventory.models import Hold, Party
from inventory.models.hold import SUBJECTS


@dataclass(frozen=True, slots=True)
class CustomerStanding:
    """What a customer has of what is in doubt, the letters to him, and what no letter names yet."""

    customer: Party
    reached: CustomerReached
    letters: tuple[RecallNotice, ...]
    unwritten: CustomerReached


def notices(*, is_open: bool | None = None) -> QuerySet[RecallNotice]:
    """Return the letters, the latest first; only those without an answer, or with one, if asked."""
    found = RecallNotice.objects.select_related(
        "customer", "letter", "written_by", "sent_by", *(f"hold__{name}" for name in SUBJECTS)
    )
    if is_open is not None:
        found = found.filter(acknowledged_at__isnull=is_open)
    return found.order_by("-id")


def notices_of(hold: Hold) -> QuerySet[RecallNotice]:
    """Return the letters about a hold in the order in which they were written."""
    return notices().filter(hold=hold).order_by("id")


def notice_of(code: str) -> RecallNotice | None:
    """Return the letter of this code."""
    return notices().filter(code=code).first()


def open_notices() -> QuerySet[RecallNotice]:
    """Return the letters that nobody has answered, the oldest first, while their hold stands."""
    return notices(is_open=True).filter(hold__released_at=None).order_by("id")


def standings(hold: Hold, recall: Recall) -> Sequence[CustomerStanding]:
    """Tell for each customer that a hold reaches what he was told of it and what not yet."""
    letters = list(notices_of(hold))
    reached = customers_reached(recall)
    parties = {
        party.code: party for party in Party.objects.filter(code__in=[one.code for one in reached])
    }
    return [_standing(one, parties[one.code], letters) for one in reached]


def _standing(
    reached: CustomerReached, customer: Party, letters: Sequence[RecallNotice]
) -> CustomerStanding:
    own = tuple(letter for letter in letters if letter.customer_id == customer.pk)
    told = [code for letter in own for code in codes_in(letter.facts)]
    return CustomerStanding(customer, reached, own, reached.without(told))
