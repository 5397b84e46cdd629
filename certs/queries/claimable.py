"""Finds the pieces that a paper or a label may be wanted for, by what they belong to."""

from collections.abc import Sequence

from django.db.models import QuerySet

from certs.models import Certificate
from certs.queries.site_reports import tag_on_site
from certs.rules.asked_text import asked_text
from inventory.models import Assembly, CutPiece, Delivery, Order, Reel
from inventory.queries.find import Thing, find_thing
from inventory.rules.refusal import Refusal

_CURRENT = (Certificate.State.DRAFT, Certificate.State.ISSUED)


def pieces_to_certify(code: str) -> list[CutPiece]:
    """Give the pieces for supply of a reel, order or delivery that no current certificate names.

    Raises Refusal where the code is of none of these.
    """
    thing = find_thing(code)
    pieces = pieces_of(thing) if thing else None
    if pieces is None:
        message = f"“{code}” is no reel, order, delivery or piece on record."
        raise Refusal(message, field="taken_from")
    named = CutPiece.objects.filter(certificate_ties__certificate__state__in=_CURRENT)
    free = pieces.filter(purpose=CutPiece.Purpose.SUPPLY, is_reversed=False)
    return list(free.exclude(pk__in=named.values("pk")).order_by("code"))


def things_to_label(codes: Sequence[str]) -> list[CutPiece | Assembly]:
    """Give the pieces and assemblies of these codes, in their order, each once.

    A code may be typed, or scanned from a label or a tag. A reel, order or delivery stands for its
    pieces for supply. Raises Refusal for another code.
    """
    found: dict[str, CutPiece | Assembly] = {}
    for code in codes:
        thing = _meant(code)
        if isinstance(thing, Assembly):
            found[thing.code] = thing
            continue
        pieces = pieces_of(thing) if thing else None
        if pieces is None:
            message = f"“{code}” is no piece, assembly, reel, order or delivery on record."
            raise Refusal(message, field="things")
        supplied = pieces.filter(purpose=CutPiece.Purpose.SUPPLY, is_reversed=False)
        found.update({piece.code: piece for piece in supplied.select_related("reel")})
    return list(found.values())


def _meant(text: str) -> Thing | None:
    asked = asked_text(text)
    tag = tag_on_site(asked.tag) if asked.tag else None
    return (tag.piece or tag.assembly) if tag else find_thing(asked.code or text)


def pieces_of(thing: Thing) -> QuerySet[CutPiece] | None:
    """Give the pieces that a thing stands for; None where it stands for none."""
    match thing:
        case Reel():
            return CutPiece.objects.filter(reel=thing)
        case Order():
            return CutPiece.objects.filter(order_line__order=thing)
        case Delivery():
            return CutPiece.objects.filter(delivery_item__delivery=thing)
        case CutPiece():
            return CutPiece.objects.filter(pk=thing.pk)
    return None
