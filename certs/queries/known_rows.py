"""Tells the rows of a story as they were at an earlier moment: what came later is left out."""

from collections.abc import Collection, Iterable, Sequence
from typing import TypeVar

from certs.queries.known_moments import Moments
from certs.queries.trace_back_shapes import Beside, LotRow, Point, RopeBack
from certs.queries.trace_shapes import (
    AssemblyRow,
    BreakingRow,
    CertificateRow,
    CustomerRow,
    PieceRow,
    ProofRow,
    TagRow,
    WireRow,
)
from inventory.queries.seeds import Through

TestRow = TypeVar("TestRow", BreakingRow, ProofRow, WireRow)


def ropes(rows: Iterable[RopeBack], known: Moments) -> list[RopeBack]:
    """Tell where rope came from, with the heats and papers that were on record."""
    return [
        {
            **rope,
            "heats": [heat for heat in rope["heats"] if known.has(heat["code"])],
            "mill_documents": [one for one in rope["mill_documents"] if known.has(one["code"])],
        }
        for rope in rows
    ]


def lots(rows: Iterable[LotRow], known: Moments) -> list[LotRow]:
    """Tell the lots of fittings."""
    return [row for row in rows if known.has(row["code"])]


def point(row: Point | None, known: Moments) -> Point | None:
    """Tell a point: what was cut around it, and where that was."""
    if row is None:
        return None
    heats = [heat for heat in row["heats"] if known.has(heat["code"])]
    around = [_beside(one, known) for one in row["around"] if known.has(one["piece"])]
    return {**row, "heats": heats, "around": around}


def pieces(rows: Iterable[PieceRow], known: Moments) -> list[PieceRow]:
    """Tell the pieces, and what had become of them.

    A piece that a fitting led to belongs to the story once the fitting was on it.
    """
    return [
        {
            **row,
            "wound_reel": known.code(row["wound_reel"]),
            "assembly": known.code(row["assembly"]),
            "delivery": known.code(row["delivery"]),
            "customer": row["customer"] if known.has(row["delivery"]) else "",
        }
        for row in rows
        if known.has(row["code"])
        and (row["through"] != Through.FITTING or known.has(row["assembly"]))
    ]


def assemblies(rows: Iterable[AssemblyRow], known: Moments) -> list[AssemblyRow]:
    """Tell the assemblies, and whether they had left."""
    return [
        {"code": row["code"], "delivery": known.code(row["delivery"])}
        for row in rows
        if known.has(row["code"])
    ]


def certificates(
    rows: Iterable[CertificateRow], known: Moments, *, reached: Collection[str]
) -> list[CertificateRow]:
    """Tell the papers on reached pieces that were issued; one ended later was still in force."""
    told: list[CertificateRow] = [
        {**row, "pieces": [code for code in row["pieces"] if code in reached]}
        for row in rows
        if known.moment(row["issued_at"])
    ]
    return [
        row
        if known.moment(row["ended_at"])
        else {**row, "state": "issued", "ended_at": "", "end_reason": ""}
        for row in told
        if row["pieces"]
    ]


def customers(
    rows: Iterable[CustomerRow], known: Moments, *, papers: Sequence[CertificateRow]
) -> list[CustomerRow]:
    """Tell who had been delivered to, or stood on one of the papers."""
    issued = {paper["number"] for paper in papers}
    told: list[CustomerRow] = [
        {
            **row,
            "deliveries": [code for code in row["deliveries"] if known.has(code)],
            "certificates": [number for number in row["certificates"] if number in issued],
        }
        for row in rows
    ]
    return [row for row in told if row["deliveries"] or row["certificates"]]


def tags(rows: Iterable[TagRow], known: Moments, *, on: Collection[str]) -> list[TagRow]:
    """Tell the tags on things and papers of the story, and which had been revoked."""
    return [
        {**row, "revoked_at": known.moment(row["revoked_at"])}
        for row in rows
        if known.moment(row["issued_at"]) and row["thing"] in on
    ]


def tests(rows: Iterable[TestRow], known: Moments) -> list[TestRow]:
    """Tell the tests, and which had been reversed."""
    return [
        {**row, "reversed_at": known.moment(row["reversed_at"])}
        for row in rows
        if known.has(row["code"])
    ]


def _beside(row: Beside, known: Moments) -> Beside:
    return {
        **row,
        "assembly": known.code(row["assembly"]),
        "delivery": known.code(row["delivery"]),
        "customer": row["customer"] if known.has(row["delivery"]) else "",
    }
