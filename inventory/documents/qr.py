"""Draws the QR of a tag: one path of SVG, sharp at any size and quick to render.

The address is put in capitals: in alphanumeric mode a QR of version 3 holds it, which fits a
small tag (18.5 mm at 0.5 mm modules).
"""

from dataclasses import dataclass
from typing import Any

import qrcode
from qrcode.constants import ERROR_CORRECT_H, ERROR_CORRECT_M, ERROR_CORRECT_Q

from inventory.documents.svg import Drawing, escape
from inventory.rules.label_stock import QUIET_MODULES

QUIET_ZONE = QUIET_MODULES
_STRONGER = (ERROR_CORRECT_H, ERROR_CORRECT_Q)


@dataclass(frozen=True, slots=True)
class QrSquare:
    """A QR as SVG; `modules` is its width in modules, quiet zone included."""

    drawing: Drawing
    modules: int


def tag_address(*, origin: str, code: str) -> str:
    """Give the address that a tag's QR holds, in capitals. `origin` has no path."""
    return f"{origin}/t/{code}".upper()


def draw_qr(address: str, *, title: str, most_modules: int = 0) -> QrSquare:
    """Draw an address as a QR (ISO/IEC 18004).

    Error correction is the strongest that needs no more modules than M does, where it costs
    nothing, or that keeps the code with its quiet zone within `most_modules`.
    """
    code = _strongest(address, most_modules=most_modules)
    code.make(fit=False)
    matrix = code.get_matrix()
    size = len(matrix) + 2 * QUIET_ZONE
    path = "".join(_row_path(row, y + QUIET_ZONE) for y, row in enumerate(matrix))
    return QrSquare(
        drawing=Drawing(
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size} {size}" role="img" '
            f'shape-rendering="crispEdges"><title>{escape(title)}</title>'
            f'<rect width="{size}" height="{size}" fill="#fff"/>'
            f'<path fill="#000" d="{path}"/></svg>'
        ),
        modules=size,
    )


def modules_of_qr(address: str, *, most_modules: int = 0) -> int:
    """Return the width in modules that `draw_qr` gives, without drawing."""
    return _modules(_strongest(address, most_modules=most_modules))


def _strongest(address: str, *, most_modules: int) -> "qrcode.QRCode[Any]":
    plain = _code(address, ERROR_CORRECT_M)
    most = max(_modules(plain), most_modules)
    stronger = (_code(address, level) for level in _STRONGER)
    return next((other for other in stronger if _modules(other) <= most), plain)


def _code(address: str, level: int) -> "qrcode.QRCode[Any]":
    """Choose the smallest version that holds an address at a level; nothing is drawn yet."""
    code: qrcode.QRCode[Any] = qrcode.QRCode(error_correction=level, border=0)
    code.add_data(address)
    code.best_fit()
    return code


def _modules(code: "qrcode.QRCode[Any]") -> int:
    """Return the width with the quiet zone; ISO/IEC 18004: a version has 17 + 4 v modules."""
    return 17 + 4 * int(code.version) + 2 * QUIET_ZONE


def _row_path(row: list[bool], y: int) -> str:
    """Join neighbouring dark modules of a row into one rectangle each."""
    parts: list[str] = []
    start: int | None = None
    for x, is_dark in enumerate([*row, False]):
        if is_dark and start is None:
            start = x
        elif not is_dark and start is not None:
            parts.append(f"M{start + QUIET_ZONE} {y}h{x - start}v1h-{x - start}z")
            start = None
    return "".join(parts)
