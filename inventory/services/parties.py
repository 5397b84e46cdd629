"""Registers the firms we buy from and sell to."""

from datetime import datetime

from django.db import transaction

from inventory.models import Party, Person
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.services import journal
from inventory.services.authority import require
from inventory.services.guarded import add_row
from inventory.services.numbering import (
    PARTY_CUSTOMER,
    PARTY_FITTING_MAKER,
    PARTY_MILL,
    take_code,
)

_PREFIXES = {
    Party.Kind.MILL: PARTY_MILL,
    Party.Kind.FITTING_MAKER: PARTY_FITTING_MAKER,
    Party.Kind.CUSTOMER: PARTY_CUSTOMER,
}


class CannotRegisterParty(Refusal):
    """A party cannot be registered."""


def register_party(*, kind: str, name: str, address: str = "", by: Person, at: datetime) -> Party:
    """Register a mill, a maker of fittings or a customer.

    Args:
        kind: a value of `Party.Kind`.

    Raises:
        CannotRegisterParty: unknown kind, no name, or a party of this kind and name is there.
    """
    require(by=by, act=Act.REGISTER_PARTY)
    if kind not in Party.Kind.values:
        message = f"“{kind}” is no kind of party; it is one of {', '.join(Party.Kind.values)}."
        raise CannotRegisterParty(message, field="kind")
    with transaction.atomic():
        party = Party(
            code=take_code(_PREFIXES[Party.Kind(kind)]),
            kind=kind,
            name=name.strip(),
            address=address.strip(),
            registered_at=at,
        )
        add_row(party, refusal=CannotRegisterParty)
        journal.append(
            at=at,
            by=by,
            act=Act.REGISTER_PARTY.value,
            subject=party.code,
            detail={"kind": party.kind},
            rows=[party],
        )
    return party
