"""Registers the firms we buy from and sell to."""

from datetime import datetime

from django.db import transaction

from inventory.models import Party, Person
from inventory.rules.language import Language
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.services import journal
from inventory.services.authority import require
from inventory.services.guarded import add_row, change_row
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


class CannotChangeParty(Refusal):
    """What is known of a party cannot be changed so."""


def register_party(
    *,
    kind: str,
    name: str,
    address: str = "",
    language: str = Language.ENGLISH,
    by: Person,
    at: datetime,
) -> Party:
    """Register a mill, a maker of fittings or a customer.

    Args:
        kind: a value of `Party.Kind`.
        language: in which papers and letters are written to it, a value of `Language`.

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
            language=language,
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


def change_party_language(*, party: Party, language: str, by: Person, at: datetime) -> Party:
    """Choose in which language papers and letters are written to a party from now on.

    Args:
        language: a value of `Language`.

    Raises:
        CannotChangeParty: the house does not write in this language.
    """
    require(by=by, act=Act.CHANGE_PARTY)
    with transaction.atomic():
        row = Party.objects.select_for_update().get(pk=party.pk)
        row.language = language
        change_row(row, "language", refusal=CannotChangeParty)
        journal.append(
            at=at,
            by=by,
            act=Act.CHANGE_PARTY.value,
            subject=row.code,
            detail={"language": row.language},
            rows=[row],
        )
    return row
