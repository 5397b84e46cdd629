"""Decides how the claims of a story or a recall stand in tables: papers, tests, tags, customers."""

from collections.abc import Iterable

from certs.pages.addresses import page_of
from certs.pages.certificate_tables import SHAPES
from certs.pages.outcome_tables import outcome_shape
from certs.pages.story_tables import told
from certs.queries.trace_shapes import (
    BreakingRow,
    CertificateRow,
    CustomerRow,
    ProofRow,
    TagRow,
)
from inventory.pages.reading import shown_force
from inventory.pages.table import Cell, Column, Line, Table, build_table
from inventory.rules.tag_code import grouped

_FORCES = (Column("Required", is_number=True), Column("Peak", is_number=True))


def certificates(rows: Iterable[CertificateRow]) -> Table:
    """Tell the certificates, with what became of each."""
    return build_table(
        columns=("Certificate", "What", "State", "Issued", "Purchaser", "Rests on"),
        lines=(
            Line(
                (
                    _certificate(row),
                    f"{row['kind'].replace('_', ' ')}, {row['document_kind']}",
                    Cell(row["state"], shape=SHAPES[row["state"]], note=row["end_reason"]),
                    row["issued_at"][:10],
                    row["customer_name"],
                    row["assembly"] or row["breaking_test"] or ", ".join(row["pieces"]),
                )
            )
            for row in rows
        ),
        folds=True,
    )


def breaking(rows: Iterable[BreakingRow]) -> Table:
    """Tell breaking-force tests."""
    return _tests("Sample", ((row, row["sample"]) for row in rows))


def proof(rows: Iterable[ProofRow]) -> Table:
    """Tell proof-load tests."""
    return _tests("Assembly", ((row, row["assembly"]) for row in rows))


def _tests(tested: str, rows: Iterable[tuple[BreakingRow | ProofRow, str]]) -> Table:
    """Tell tests, each with the code of what was tested."""
    return build_table(
        columns=("Test", tested, "Tested", *_FORCES, "Outcome"),
        lines=(
            Line(
                (
                    Cell(row["code"], href=page_of(row["code"])),
                    told(thing),
                    row["tested_at"][:10],
                    shown_force(row["required_n"]),
                    shown_force(row["peak_n"]),
                    _outcome(row["outcome"], reversed_at=row["reversed_at"]),
                )
            )
            for row, thing in rows
        ),
        folds=True,
    )


def customers(rows: Iterable[CustomerRow]) -> Table:
    """Tell whom to call."""
    lines = (
        Line(
            (
                Cell(row["name"], note=row["code"]),
                ", ".join(row["deliveries"]),
                ", ".join(row["certificates"]),
            )
        )
        for row in rows
    )
    return build_table(columns=("Customer", "Deliveries", "Certificates"), lines=lines, folds=True)


def tags(rows: Iterable[TagRow]) -> Table:
    """Tell tags, each a link to what a stranger sees."""
    lines = (
        Line(
            (
                Cell(grouped(row["code"]), href=f"/t/{row['code']}"),
                Cell(row["thing"], note=row["on"]),
                row["issued_at"][:10],
                Cell("revoked", shape="stop", note=row["revoked_at"][:10])
                if row["revoked_at"]
                else Cell("stands", shape="good"),
            )
        )
        for row in rows
    )
    return build_table(columns=("Tag", "On", "Issued", "State"), lines=lines, folds=True)


def _certificate(row: CertificateRow) -> Cell:
    code = row["number"] or row["draft_code"]
    return Cell(code, href=page_of(code))


def _outcome(outcome: str, *, reversed_at: str) -> Cell:
    if reversed_at:
        return Cell("reversed", shape="past", note=reversed_at[:10])
    return Cell(outcome.replace("_", " "), shape=outcome_shape(outcome))
