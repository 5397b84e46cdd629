"""Template tags that weigh orders and pieces; built into the template engine (settings).

The pages of orders and pieces are the inventory's, which knows no masses: a tag brings them in.
"""

from django import template

from certs.pages.derivations import ShownDerivation, shown_steps
from certs.queries.order_weight import order_weight, piece_weights
from certs.rules.derived import Derived, Gap
from certs.rules.rope_weight import ROPE_ALONE
from inventory.models import CutPiece, Order
from inventory.pages.facts import Fact

register = template.Library()


@register.simple_tag
def weight_of_order(order: Order) -> dict[str, list[Fact] | list[ShownDerivation]]:
    """Give `facts` (the total first, then each line) and `steps` of the weight of an order."""
    weight = order_weight(order)
    facts = [_fact(gap) for gap in weight.gaps]
    if weight.total is None:
        return {"facts": facts, "steps": []}
    missing = ", without the lines that no mass is held for" if facts else ""
    total = Fact("Weight of the order", weight.total.text, note=f"{ROPE_ALONE[:-1]}{missing}.")
    return {
        "facts": [total, *(_fact(line) for line in weight.lines), *facts],
        "steps": shown_steps(weight.total),
    }


@register.simple_tag
def weights_of_piece(piece: CutPiece) -> list[Fact]:
    """Give what a piece weighs by each mass that is held, or why that cannot be said."""
    return [
        Fact("Weight", "no value held", note=one.reason)
        if isinstance(one, Gap)
        else Fact("Weight", one.text, note=one.basis)
        for one in piece_weights(piece)
    ]


def _fact(part: Derived | Gap) -> Fact:
    if isinstance(part, Gap):
        return Fact(_sentence(part.quantity), "no value held", note=part.reason)
    return Fact(_sentence(part.quantity), part.text, note=part.basis)


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]
