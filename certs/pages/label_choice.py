"""Decides how the stocks of labels are offered: each pictured, with what a camera needs."""

from collections.abc import Sequence
from dataclasses import dataclass

from inventory.documents.label_picture import draw_label_picture
from inventory.documents.svg import Drawing
from inventory.documents.tag_label import modules_on
from inventory.rules.label_stock import STOCKS, LabelStock, code_on, refuse_too_fine
from inventory.rules.refusal import Refusal


@dataclass(frozen=True, slots=True)
class ShownStock:
    """One stock as it is offered; `refusal` says why not, where it is not."""

    key: str
    name: str
    use: str
    picture: Drawing
    module: str
    told: tuple[str, ...]
    refusal: str
    is_chosen: bool


def stocks_to_choose(*, origin: str, chosen: str) -> Sequence[ShownStock]:
    """Show every stock, with how the code of a tag comes out on it."""
    return [_shown(key, stock, origin=origin, chosen=chosen) for key, stock in STOCKS.items()]


def _shown(key: str, stock: LabelStock, *, origin: str, chosen: str) -> ShownStock:
    modules = modules_on(stock, origin=origin)
    on = code_on(stock, modules=modules)
    told = [
        f"read from {on.reach_um / 10_000:.0f} cm at most",
        f"lies flat, or on a round of {on.least_round_um / 1000:.0f} mm or more",
    ]
    if stock.thickest_rope_um:
        told[1] = f"goes round rope of up to {stock.thickest_rope_um / 1000:.0f} mm, ends stuck"
    return ShownStock(
        key=key,
        name=stock.name,
        use=stock.use,
        picture=draw_label_picture(stock, key=key, modules=modules),
        module=f"{on.module_um / 1000:.2f} mm",
        told=tuple(told),
        refusal=_refusal(stock, modules=modules),
        is_chosen=key == chosen,
    )


def _refusal(stock: LabelStock, *, modules: int) -> str:
    try:
        refuse_too_fine(stock, modules=modules)
    except Refusal as refusal:
        return refusal.message
    return ""
