"""Prints sheets of tag labels: a QR, the code in groups, and a line or two to compare.

Sheets are described by their grid alone; sizes are common practice, no source.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from django.template.loader import render_to_string

from inventory.documents.qr import draw_qr, tag_address
from inventory.rules.refusal import Refusal
from inventory.rules.tag_code import grouped


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """A sheet of labels in millimetres. `qr_mm` is the width of the QR with its quiet zone."""

    name: str
    page_width_mm: int
    page_height_mm: int
    margin_mm: int
    columns: int
    rows: int
    label_width_mm: int
    label_height_mm: int
    qr_mm: int

    @property
    def per_page(self) -> int:
        """Give the labels on one page."""
        return self.columns * self.rows


# The smallest QR is 18.5 mm: 37 modules of 0.5 mm, which a phone still reads.
SHEETS: Mapping[str, LabelSheet] = MappingProxyType(
    {
        "a4-small": LabelSheet("A4, 3 × 9 labels of 64 × 30 mm", 210, 297, 9, 3, 9, 64, 30, 24),
        "a4-medium": LabelSheet("A4, 2 × 6 labels of 96 × 46 mm", 210, 297, 9, 2, 6, 96, 46, 36),
        "a4-large": LabelSheet("A4, 1 × 3 labels of 190 × 92 mm", 210, 297, 9, 1, 3, 190, 92, 76),
        "roll-50": LabelSheet("Roll, one label of 50 × 30 mm", 50, 30, 0, 1, 1, 50, 30, 24),
        "roll-100": LabelSheet("Roll, one label of 100 × 50 mm", 100, 50, 0, 1, 1, 100, 50, 40),
    }
)


@dataclass(frozen=True, slots=True)
class Label:
    """What one label says: the code that its QR leads to, a title, and lines to compare."""

    code: str
    title: str
    lines: tuple[str, ...]


def label_html(labels: Sequence[Label], *, sheet: str, origin: str, skip: int = 0) -> str:
    """Lay out labels on a sheet; `skip` leaves the first places of a used sheet empty.

    Raises:
        Refusal: unknown sheet, no labels, or more skipped than a page holds.
    """
    chosen = SHEETS.get(sheet)
    if chosen is None:
        raise Refusal(f"Choose one of the sheets: {', '.join(SHEETS)}.", field="sheet")
    if not labels:
        raise Refusal("Choose at least one thing to print a label for.", field="labels")
    if not 0 <= skip < chosen.per_page:
        raise Refusal(f"Skip between 0 and {chosen.per_page - 1} places.", field="skip")
    places = [None] * skip + [_place(label, origin=origin) for label in labels]
    return render_to_string(
        "inventory/paper/labels.html",
        {"sheet": chosen, "pages": list(_pages(places, chosen))},
    )


def _place(label: Label, *, origin: str) -> dict[str, object]:
    address = tag_address(origin=origin, code=label.code)
    return {
        "qr": draw_qr(address, title=f"Tag {grouped(label.code)}").drawing,
        "code_halves": _halves(grouped(label.code)),
        "title": label.title,
        "lines": label.lines,
        "host": origin.partition("://")[2],
    }


def _halves(code: str) -> tuple[str, str]:
    """Cut a code between its groups, so that a narrow label breaks it there and nowhere else."""
    middle = code.find("-", len(code) // 2) + 1
    return code[:middle], code[middle:]


def _pages(
    places: Sequence[dict[str, object] | None], sheet: LabelSheet
) -> Sequence[Sequence[Sequence[dict[str, object] | None]]]:
    """Cut the places into pages of rows."""
    rows = [places[i : i + sheet.columns] for i in range(0, len(places), sheet.columns)]
    return [rows[i : i + sheet.rows] for i in range(0, len(rows), sheet.rows)]
