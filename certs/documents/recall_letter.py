"""Prints the letter of a recall to one customer from its frozen facts, and from nothing else."""

import hashlib
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.template.loader import render_to_string

from certs.documents.paper import Enclosure, print_paper
from certs.documents.paper_head import paper_head
from certs.documents.paper_words import speaking
from inventory.rules.tag_code import grouped

Facts = Mapping[str, Any]
"""The facts of a letter as JSON; their shape is made by `certs.services.recall_notices`."""


def recall_letter_pdf(facts: Facts, *, canonical: str, logo: bytes = b"") -> bytes:
    """Print the letter with its facts enclosed; `canonical` is their RFC 8785 text.

    The same text and the same logo give the same bytes.
    """
    return print_paper(
        recall_letter_html(facts, logo=logo),
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


def recall_letter_html(facts: Facts, *, logo: bytes = b"") -> str:
    """Lay out the letter as one HTML document for `paper.print_paper`."""
    # Letters of earlier days name no language.
    with speaking(facts.get("language", "")) as lang:
        return render_to_string(
            "certs/paper/recall_letter.html",
            {
                "letter": facts,
                "head": paper_head(facts["issuer"], logo=logo),
                "written_at": datetime.fromisoformat(facts["written_at"]),
                "items": [_told(item) for item in facts["items"]],
                "papers": [_told(paper) for paper in facts["papers"]],
                "lang": lang,
            },
        )


def _told(row: Facts) -> dict[str, Any]:
    return {**row, "tag_codes": [grouped(tag) for tag in row["tags"]]}
