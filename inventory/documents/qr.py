"""Draws the QR of a tag: one path of SVG, sharp at any size and quick to render.

The address is put in capitals: in alphanumeric mode a QR of version 3 holds it, which fits a
small tag (18.5 mm at 0.5 mm modules).
"""

from dataclasses import dataclass

import qrcode
from qrcode.constants import ERROR_CORRECT_M

from inventory.documents.svg import Drawing, escape

QUIET_ZONE = 4


@dataclass(frozen=True, slots=True)
class QrSquare:
    """A QR as SVG; `modules` is its width in modules, quiet zone included."""

    drawing: Drawing
    modules: int


def tag_address(*, origin: str, code: str) -> str:
    """Give the address that a tag's QR holds, in capitals. `origin` has no path."""
    return f"{origin}/t/{code}".upper()


def draw_qr(address: str, *, title: str) -> QrSquare:
    """Draw an address as a QR with error correction M (ISO/IEC 18004)."""
    code = qrcode.QRCode(error_correction=ERROR_CORRECT_M, border=0)
    code.add_data(address)
    code.make(fit=True)
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
