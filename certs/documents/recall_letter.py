"""Prints the letter of a recall to one customer from its frozen facts, and from nothing else."""

import hashlib
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.template.loader import render_to_string

from certs.documents.paper import Enclosure, print_paper
from inventory.rules.tag_code import grouped

Facts = Mapping[str, Any]
"""The facts of a letter as JSON; their shape is made by `certs.services.recall_notices`."""


def recall_letter_pdf(facts: Facts, *, canonical: str) -> bytes:
    """Print the letter with its facts enclosed; `canonical` is their RFC 8785 text.

    The same text gives the same bytes.
    """
    return print_paper(
        recall_letter_html(facts),
        identifier=hashlib.sha256(canonical.encode()).digest()[:16],
        made_at=datetime.fromisoformat(facts["written_at"]),
        enclosures=[
            Enclosure(
                name="recall.json",
                content=canonical.encode(),
                description="The data of this letter, in canonical JSON (RFC 8785)",
            )
        ],
    )


def recall_letter_html(facts: Facts) -> str:
    """Lay out the letter as one HTML document for `paper.print_paper`."""
    return render_to_string(
        "certs/paper/recall_letter.html",
        {
            "letter": facts,
            "written_at": datetime.fromisoformat(facts["written_at"]),
            "items": [_told(item) for item in facts["items"]],
            "papers": [_told(paper) for paper in facts["papers"]],
        },
    )


def _told(row: Facts) -> dict[str, Any]:
    return {**row, "tag_codes": [grouped(tag) for tag in row["tags"]]}
