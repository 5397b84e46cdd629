"""Decides how a stock of labels is pictured: to scale, with where its code and words stand."""

from collections.abc import Iterator

from inventory.documents.svg import INK, PAPER, RULE, SOFT, Drawing, Spoken, drawing, element
from inventory.documents.tag_label import code_corner_um, words_room
from inventory.rules.label_stock import QUIET_MODULES, LabelStock

Look = dict[str, str | float]

_UNITS_A_MM = 2.1
_WIDEST = 215.0
_FEWEST, _LINES = 2, 5


def draw_label_picture(stock: LabelStock, *, key: str, modules: int) -> Drawing:
    """Draw a label in outline; all at one scale, but for those too wide for it."""
    scale = min(_UNITS_A_MM, _WIDEST / (stock.width_um / 1000)) / 1000
    width, height = stock.width_um * scale, stock.height_um * scale
    outline: dict[str, str | float] = {
        "class": "draw-paper draw-rule",
        "x": 1,
        "y": 1,
        "width": width,
        "height": height,
        "fill": PAPER,
        "stroke": RULE,
    }
    return drawing(
        width=width + 2,
        height=height + 2,
        spoken=Spoken(f"label-{key}", stock.name, "The code, and beside or below it the words."),
        parts=(
            element("rect", outline),
            *_code(stock, modules=modules, scale=scale),
            *_words(stock, scale=scale),
        ),
    )


def _code(stock: LabelStock, *, modules: int, scale: float) -> Iterator[str]:
    """Yield the three corner marks of a QR and a tone for what lies between them."""
    left, top = (1 + um * scale for um in code_corner_um(stock))
    module = stock.code_um * scale / modules
    quiet, mark = QUIET_MODULES * module, 7 * module
    side = (modules - 2 * QUIET_MODULES) * module
    x, y = left + quiet, top + quiet
    yield _box(x, y, side, side, look={"class": "draw-soft", "fill": SOFT, "fill-opacity": 0.35})
    for column, row in ((0, 0), (1, 0), (0, 1)):
        corner_x, corner_y = x + column * (side - mark), y + row * (side - mark)
        yield _box(corner_x, corner_y, mark, mark, look={"class": "draw-ink", "fill": INK})
        inner = mark - 2 * module
        ring: Look = {"class": "draw-paper", "fill": PAPER}
        yield _box(corner_x + module, corner_y + module, inner, inner, look=ring)
        heart = mark - 4 * module
        ink: Look = {"class": "draw-ink", "fill": INK}
        yield _box(corner_x + 2 * module, corner_y + 2 * module, heart, heart, look=ink)


def _words(stock: LabelStock, *, scale: float) -> Iterator[str]:
    """Yield bars where the words stand, the title thicker than the rest."""
    room = words_room(stock)
    left, width = 1 + room.left_um * scale, room.width_um * scale
    height = room.height_um * scale
    lines = max(min(_LINES, int(height / 4)), _FEWEST)
    pitch = min(height / lines, 9.0)
    top = 1 + room.top_um * scale + (height - pitch * lines) / 2
    for line in range(lines):
        thick = pitch * (0.6 if line == 0 else 0.3)
        share = (0.55, 0.9, 0.5, 1.0, 0.8)[line]
        look: Look = {"class": "draw-soft", "fill": SOFT}
        yield _box(left, top + line * pitch, width * share, thick, look=look)


def _box(x: float, y: float, width: float, height: float, *, look: Look) -> str:
    return element("rect", {**look, "x": x, "y": y, "width": width, "height": height})
