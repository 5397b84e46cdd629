"""Decides how certificates stand in a table, and which shape goes with each state."""

from collections.abc import Iterable

from certs.models import Certificate
from certs.pages.addresses import page_of
from inventory.pages.reading import day
from inventory.pages.table import Cell, Line, Table, build_table

SHAPES = {
    Certificate.State.DRAFT.value: "open",
    Certificate.State.ISSUED.value: "good",
    Certificate.State.SUPERSEDED.value: "past",
    Certificate.State.WITHDRAWN.value: "stop",
}


def name_of(certificate: Certificate) -> str:
    """Give the number of a certificate, or its draft code while it has none."""
    return certificate.number or certificate.draft_code


def table_of_certificates(rows: Iterable[Certificate]) -> Table:
    """Put certificates into a table."""
    return build_table(
        columns=("Certificate", "What", "Kind of document", "Purchaser", "Date", "State"),
        lines=(
            Line(
                (
                    Cell(name_of(row), href=page_of(name_of(row))),
                    Cell(row.get_kind_display(), note=_subject(row)),
                    row.get_document_kind_display(),
                    row.customer.name if row.customer else "",
                    day(row.issued_at or row.drafted_at),
                    Cell(row.get_state_display(), shape=SHAPES[row.state]),
                )
            )
            for row in rows
        ),
        folds=True,
    )


def _subject(row: Certificate) -> str:
    if row.assembly:
        return row.assembly.code
    return row.breaking_test.code if row.breaking_test else ""
