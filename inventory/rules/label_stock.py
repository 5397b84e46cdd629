"""Decides which label stocks there are, and how large the modules of a code come out on each.

Sizes are those that rolls and sheets are commonly cut to: common practice, no source. How a label
is set is left to `inventory.documents.tag_label`.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Final, Required, TypedDict, Unpack

from inventory.rules.refusal import Refusal

LEAST_MODULE_UM: Final = 500
"""Common practice for the cameras of phones, no source."""

EASY_MODULE_UM: Final = 600
"""Own decision: above this, more error correction is worth more than larger modules."""

# A camera reads a code from about ten times its width: common practice, no source. That a quarter
# of the round may be covered was found here, by decoding at five pixels a module.
_REACH: Final = 10
_PARTS_OF_ROUND: Final = 4

QUIET_MODULES: Final = 4
"""On each side: ISO/IEC 18004 asks for four."""


class Setting(StrEnum):
    """How a label is set."""

    BESIDE = "beside"
    BELOW = "below"
    FLAG = "flag"


@dataclass(frozen=True, slots=True)
class LabelStock:
    """A stock of labels, lengths in µm: a sheet with its grid, or a roll with one label a page.

    `code_um` is the width that the code takes with its quiet zone. `wrap_um` is the part of a flag
    that goes round the rope, between its two faces.
    """

    name: str
    use: str
    width_um: int
    height_um: int
    code_um: int
    setting: Setting = Setting.BESIDE
    wrap_um: int = 0
    page_width_um: int = 0
    page_height_um: int = 0
    columns: int = 1
    rows: int = 1
    gap_x_um: int = 0
    gap_y_um: int = 0

    @property
    def per_page(self) -> int:
        """Give the labels on one page."""
        return self.columns * self.rows

    @property
    def page_um(self) -> tuple[int, int]:
        """Give width and height of the page; that of a roll is the label."""
        return self.page_width_um or self.width_um, self.page_height_um or self.height_um

    @property
    def first_um(self) -> tuple[int, int]:
        """Give where the first label begins, from the left and the top: the grid is centred."""
        width, height = self.page_um
        taken_x = self.columns * self.width_um + (self.columns - 1) * self.gap_x_um
        taken_y = self.rows * self.height_um + (self.rows - 1) * self.gap_y_um
        return (width - taken_x) // 2, (height - taken_y) // 2

    @property
    def thickest_rope_um(self) -> int:
        """Give the rope that a flag still goes round, by diameter; 0 for other labels."""
        return int(self.wrap_um / math.pi)


@dataclass(frozen=True, slots=True)
class CodeOnStock:
    """How a code comes out on a stock: its module, how far off it reads, how round it may lie.

    All in µm. `least_round_um` is the least diameter of a ferrule on which the code, wrapped round
    it, covers no more than a quarter of the round.
    """

    module_um: int
    reach_um: int
    least_round_um: int

    @property
    def is_scannable(self) -> bool:
        """Tell whether the modules are as large as a camera needs."""
        return self.module_um >= LEAST_MODULE_UM


class _Grid(TypedDict, total=False):
    """The labels of a sheet, lengths in µm."""

    width_um: Required[int]
    height_um: Required[int]
    code_um: Required[int]
    columns: int
    rows: int
    gap_x_um: int
    gap_y_um: int


def _a4(name: str, use: str, **grid: Unpack[_Grid]) -> LabelStock:
    return LabelStock(name, use, page_width_um=210_000, page_height_um=297_000, **grid)


def _letter(name: str, use: str, **grid: Unpack[_Grid]) -> LabelStock:
    return LabelStock(name, use, page_width_um=215_900, page_height_um=279_400, **grid)


STOCKS: Final[Mapping[str, LabelStock]] = MappingProxyType(
    {
        "tag-25": LabelStock(
            "Roll, 25 × 25 mm", "a tag on a ferrule", 25_000, 25_000, 18_900, Setting.BELOW
        ),
        "roll-50x25": LabelStock("Roll, 50 × 25 mm", "a piece", 50_000, 25_000, 22_500),
        "roll-50": LabelStock("Roll, 50 × 30 mm", "a piece", 50_000, 30_000, 22_500),
        "roll-62x29": LabelStock("Roll, 62 × 29 mm", "a piece", 62_000, 29_000, 26_000),
        "flag-100x25": LabelStock(
            "Flag, 100 × 25 mm", "round the rope", 100_000, 25_000, 22_500, Setting.FLAG, 26_000
        ),
        "roll-100": LabelStock("Roll, 100 × 50 mm", "a reel or coil", 100_000, 50_000, 44_000),
        "roll-100x150": LabelStock(
            "Roll, 100 × 150 mm", "a box or drum", 100_000, 150_000, 84_000, Setting.BELOW
        ),
        "a4-small": _a4(
            "A4 sheet, 3 × 9 of 64 × 30 mm", "pieces",
            width_um=64_000, height_um=30_000, code_um=25_000, columns=3, rows=9,
        ),
        "a4-70x37": _a4(
            "A4 sheet, 3 × 8 of 70 × 37 mm", "pieces",
            width_um=70_000, height_um=37_000, code_um=30_000, columns=3, rows=8,
        ),
        "a4-medium": _a4(
            "A4 sheet, 2 × 6 of 96 × 46 mm", "slings and pieces",
            width_um=96_000, height_um=46_000, code_um=38_000, columns=2, rows=6,
        ),
        "a4-99x68": _a4(
            "A4 sheet, 2 × 4 of 99.1 × 67.7 mm", "reels and coils",
            width_um=99_100, height_um=67_700, code_um=50_000, columns=2, rows=4, gap_x_um=2_500,
        ),
        "a4-large": _a4(
            "A4 sheet, 1 × 3 of 190 × 92 mm", "drums",
            width_um=190_000, height_um=92_000, code_um=78_000, columns=1, rows=3,
        ),
        "letter-67x25": _letter(
            "Letter sheet, 3 × 10 of 66.7 × 25.4 mm", "pieces",
            width_um=66_675, height_um=25_400, code_um=22_500, columns=3, rows=10, gap_x_um=3_175,
        ),
        "letter-102x51": _letter(
            "Letter sheet, 2 × 5 of 101.6 × 50.8 mm", "slings and reels",
            width_um=101_600, height_um=50_800, code_um=43_000, columns=2, rows=5, gap_x_um=4_775,
        ),
    }
)  # fmt: skip


def stock_named(key: str) -> LabelStock:
    """Return a stock by its key. Raises Refusal for one that is none."""
    stock = STOCKS.get(key)
    if stock is None:
        raise Refusal(f"Choose one of the labels: {', '.join(STOCKS)}.", field="sheet")
    return stock


def code_on(stock: LabelStock, *, modules: int) -> CodeOnStock:
    """Say how a code of so many modules, quiet zone included, comes out on a stock."""
    module_um = stock.code_um // modules
    symbol_um = module_um * (modules - 2 * QUIET_MODULES)
    return CodeOnStock(
        module_um=module_um,
        reach_um=_REACH * symbol_um,
        least_round_um=math.ceil(_PARTS_OF_ROUND * symbol_um / math.pi),
    )


def refuse_too_fine(stock: LabelStock, *, modules: int) -> None:
    """Refuse a stock on which the modules would be too fine. Raises Refusal."""
    on = code_on(stock, modules=modules)
    if not on.is_scannable:
        message = (
            f"A code of {modules} modules does not fit this label: each would be"
            f" {on.module_um / 1000:.2f} mm, and a camera needs"
            f" {LEAST_MODULE_UM / 1000:.1f} mm. Choose a larger label; a shorter web address of"
            " the house makes smaller codes."
        )
        raise Refusal(message, field="sheet")
