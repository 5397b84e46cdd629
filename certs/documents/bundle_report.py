"""Prints the readable report of an auditor's bundle: the whole story on paper, with contents."""

import hashlib
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.template.loader import render_to_string

from certs.documents.paper import print_paper
from certs.documents.paper_head import paper_head
from certs.documents.paper_words import speaking

Facts = Mapping[str, Any]
"""The facts of a report; their shape is made by `certs.queries.bundle_report`."""


def bundle_report_pdf(
    report: Facts, *, made_at: datetime, identifier: str, logo: bytes = b""
) -> bytes:
    """Print the report; the same facts, logo, moment and identifier give the same bytes."""
    return print_paper(
        bundle_report_html(report, logo=logo),
        identifier=hashlib.sha256(identifier.encode()).digest()[:16],
        made_at=made_at,
    )


def bundle_report_html(report: Facts, *, logo: bytes = b"") -> str:
    """Lay out the report as one HTML document for `paper.print_paper`; it is in English."""
    told = {"report": report, "head": paper_head(report["issuer"], logo=logo)}
    with speaking(""):
        return render_to_string("certs/paper/bundle_report.html", told)
