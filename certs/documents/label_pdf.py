"""Prints tag labels and their sheets with the house's typeface."""

import hashlib
from collections.abc import Sequence
from datetime import datetime

from certs.documents.paper import print_paper
from inventory.documents.tag_label import Label, label_html


def label_pdf(
    labels: Sequence[Label], *, sheet: str, origin: str, made_at: datetime, skip: int = 0
) -> bytes:
    """Print labels on a sheet of `inventory.documents.tag_label.SHEETS`.

    Raises:
        Refusal: unknown sheet, no labels, or more skipped than a page holds.
    """
    html = label_html(labels, sheet=sheet, origin=origin, skip=skip)
    return print_paper(
        html, identifier=hashlib.sha256(html.encode()).digest()[:16], made_at=made_at
    )
