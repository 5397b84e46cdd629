"""Prints tag labels: a QR with its quiet zone, the code in groups, and a line or two to compare.

Which stocks there are, and which code is too fine for one, says `inventory.rules.label_stock`. A
label tells no load: it stays on the rope when its paper has changed; the page behind its code does
not.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.template.loader import render_to_string

from inventory.documents.label_words import Room, Said, words_in
from inventory.documents.qr import QrSquare, draw_qr, modules_of_qr, tag_address
from inventory.rules.label_stock import (
    EASY_MODULE_UM,
    STOCKS,
    LabelStock,
    Setting,
    code_on,
    refuse_too_fine,
    stock_named,
)
from inventory.rules.refusal import Refusal
from inventory.rules.tag_code import grouped

SHEETS = STOCKS

CAUTION = "Scan before use. Tag missing or unreadable: do not use."


@dataclass(frozen=True, slots=True)
class Label:
    """What one label says: the code that its QR leads to, a title, and lines to compare.

    The code is a tag's unless `path` says what else of this house it is the code of: a reel's
    label leads to a page for those who sign in.
    """

    code: str
    title: str
    lines: tuple[str, ...]
    path: str = ""
    caution: str = CAUTION


def label_html(labels: Sequence[Label], *, sheet: str, origin: str, skip: int = 0) -> str:
    """Lay out labels on a stock; `skip` leaves the first places of a used sheet empty.

    Raises:
        Refusal: unknown stock, no labels, more skipped than a page holds, or a code too fine.
    """
    stock = stock_named(sheet)
    if not labels:
        raise Refusal("Choose at least one thing to print a label for.", field="labels")
    if not 0 <= skip < stock.per_page:
        raise Refusal(f"Skip between 0 and {stock.per_page - 1} places.", field="skip")
    modules = modules_on(stock, origin=origin)
    refuse_too_fine(stock, modules=modules)
    places = [
        (at, _place(label, stock, origin=origin, at=at % stock.per_page))
        for at, label in enumerate(labels, skip)
    ]
    pages = (len(labels) + skip - 1) // stock.per_page + 1
    told = [[p for at, p in places if at // stock.per_page == page] for page in range(pages)]
    width, height = stock.page_um
    return render_to_string(
        "inventory/paper/labels.html",
        {
            "page_width": _mm(width),
            "page_height": _mm(height),
            "width": _mm(stock.width_um),
            "height": _mm(stock.height_um),
            "code": _code_box(stock, modules=modules),
            "folds": [_mm(fold) for fold in _folds(stock)],
            "pages": told,
        },
    )


def modules_on(stock: LabelStock, *, origin: str) -> int:
    """Return how many modules wide the code of a tag is on a stock, quiet zone included.

    Every code has sixteen symbols, so only the address of the house decides besides.
    """
    return modules_of_qr(tag_address(origin=origin, code="0" * 16), most_modules=_most(stock))


def code_corner_um(stock: LabelStock) -> tuple[int, int]:
    """Return where the code with its quiet zone begins on a label, from the left and the top."""
    margin = (stock.height_um - stock.code_um) // 2
    if stock.setting is Setting.BELOW:
        side = (stock.width_um - stock.code_um) // 2
        return side, min(side, margin, 6_000) if stock.height_um > stock.width_um else 300
    if stock.setting is Setting.FLAG:
        return (_face_um(stock) - stock.code_um) // 2, margin
    return min(margin, 2_500), margin


def words_room(stock: LabelStock) -> Room:
    """Return the part of a label that its words have."""
    left, top = code_corner_um(stock)
    if stock.setting is Setting.BELOW:
        below = top + stock.code_um
        return Room(500, below, stock.width_um - 1_000, stock.height_um - below - 600)
    if stock.setting is Setting.FLAG:
        start = _face_um(stock) + stock.wrap_um + 2_000
        return Room(start, 1_000, stock.width_um - start - 2_000, stock.height_um - 2_000)
    # The quiet zone is white already; a little more keeps the words from crowding the code.
    start = left + stock.code_um + stock.height_um // 60
    return Room(start, 1_000, stock.width_um - start - 1_500, stock.height_um - 2_000)


def _face_um(stock: LabelStock) -> int:
    return (stock.width_um - stock.wrap_um) // 2


def _folds(stock: LabelStock) -> Iterator[int]:
    if stock.setting is Setting.FLAG:
        yield _face_um(stock)
        yield _face_um(stock) + stock.wrap_um


def _code_box(stock: LabelStock, *, modules: int) -> dict[str, str]:
    """Give the box of the code: whole micrometres a module, so that each is as wide as the next."""
    left, top = code_corner_um(stock)
    side = code_on(stock, modules=modules).module_um * modules
    spare = (stock.code_um - side) // 2
    return {"left": _mm(left + spare), "top": _mm(top + spare), "side": _mm(side)}


def _place(label: Label, stock: LabelStock, *, origin: str, at: int) -> dict[str, object]:
    row, column = divmod(at, stock.columns)
    first_x, first_y = stock.first_um
    return {
        "left": _mm(first_x + column * (stock.width_um + stock.gap_x_um)),
        "top": _mm(first_y + row * (stock.height_um + stock.gap_y_um)),
        "qr": _qr(stock, label, origin=origin).drawing,
        "words": words_in(
            words_room(stock),
            Said(
                title=label.title,
                lines=label.lines,
                code=label.code if label.path else grouped(label.code),
                caution=label.caution,
                host=origin.partition("://")[2],
            ),
            is_centred=stock.setting is Setting.BELOW,
        ),
    }


def _qr(stock: LabelStock, label: Label, *, origin: str) -> QrSquare:
    if label.path:
        address, title = f"{origin}/{label.path}/{label.code}".upper(), f"Code of {label.code}"
    else:
        address, title = tag_address(origin=origin, code=label.code), f"Tag {grouped(label.code)}"
    return draw_qr(address, title=title, most_modules=_most(stock))


def _most(stock: LabelStock) -> int:
    return stock.code_um // EASY_MODULE_UM


def _mm(length_um: int) -> str:
    return f"{length_um // 1000}.{length_um % 1000:03d}"
