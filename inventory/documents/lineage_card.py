"""Decides how a node of a lineage looks: kind, name and note; a hold in words and shape."""

from collections.abc import Mapping

from inventory.documents.lineage_nodes import LineageNode
from inventory.documents.svg import (
    ACCENT,
    PAPER,
    RULE,
    SOFT,
    TINT,
    WARM,
    WARM_TINT,
    element,
    linked,
    shorten,
    text,
    text_width,
)

CARD_WIDTH = 158.0
CARD_HEIGHT = 48.0

_INSET = 9.0
_STOP = "DO NOT USE"
# In user units; on a phone, where 340 of them fill the width, still nearly 11 px.
_SMALL = 11.5
_STOP_SIZE = 11.0


def draw_card(
    node: LineageNode,
    *,
    left: float,
    top: float,
    width: float = CARD_WIDTH,
    marks: Mapping[str, str | float] | None = None,
) -> str:
    """Draw a node with its upper left corner at the given place, in user units.

    `marks` are further attributes of its link.
    """
    room = width - 2 * _INSET
    stop_room = text_width(_STOP, size=_STOP_SIZE) + 17 if node.is_held else 0
    lines = (
        (node.kind, 14.0, _SMALL, "400", room - stop_room),
        (node.label, 29.0, 13.0, "700", room),
        (node.note, 42.5, _SMALL, "400", room),
    )
    texts = (
        text(
            shorten(content, size=size, width=most),
            {
                "class": "draw-ink" if weight == "700" else "draw-soft",
                "x": left + _INSET,
                "y": top + down,
                "font-size": size,
                "font-weight": weight,
                **({} if weight == "700" else {"fill": SOFT}),
            },
        )
        for content, down, size, weight, most in lines
        if content
    )
    stop = _stop_sign(left + width - _INSET, top + 13) if node.is_held else ""
    drawn = "".join([_frame(node, left, top, width), *texts, stop])
    return linked(drawn, href=node.href, title=node.spoken, marks=marks)


def _frame(node: LineageNode, left: float, top: float, width: float) -> str:
    ground_class, ground = "draw-paper", PAPER
    line_class, line, weight = "draw-rule", RULE, 1.0
    if node.is_lit:
        ground_class, ground = "draw-tint", TINT
        line_class, line, weight = "draw-accent-line", ACCENT, 2.5
    if node.is_held:
        ground_class, ground = "draw-warm-tint", WARM_TINT
        line_class, line, weight = "draw-warm-line", WARM, 3.5 if node.is_lit else 1.8
    return element(
        "rect",
        {
            "class": f"{ground_class} {line_class}",
            "x": left,
            "y": top,
            "width": width,
            "height": CARD_HEIGHT,
            "rx": 2,
            "fill": ground,
            "stroke": line,
            "stroke-width": weight,
        },
    )


def _stop_sign(right: float, baseline: float) -> str:
    """Draw the hold: an octagon with a bar, and the words."""
    x = right - text_width(_STOP, size=_STOP_SIZE) - 14
    octagon = f"M{x + 3:.1f} {baseline - 9:.1f}h4l3 3v4l-3 3h-4l-3 -3v-4z"
    bar = f"M{x + 2:.1f} {baseline - 4:.1f}h6"
    words: dict[str, str | float] = {
        "class": "draw-warm",
        "x": x + 14,
        "y": baseline,
        "font-size": _STOP_SIZE,
        "font-weight": "700",
        "fill": WARM,
    }
    return "".join(
        [
            element("path", {"class": "draw-warm", "d": octagon, "fill": WARM}),
            element("path", {"d": bar, "stroke": WARM_TINT, "stroke-width": 2}),
            text(_STOP, words),
        ]
    )
