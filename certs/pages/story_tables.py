"""Decides how things of a story or a recall stand in tables; a code is a link to its story."""

from collections.abc import Iterable, Sequence

from certs.pages.addresses import page_of, story_of
from certs.queries.trace_back_shapes import Beside, DocumentBack, HeatBack, LotRow, ReelBack
from certs.queries.trace_shapes import DeliveryRow, HoldRow, PieceRow
from inventory.documents.reel_stretches import span
from inventory.pages.reading import shown_metres
from inventory.pages.table import Cell, Column, Line, Table, build_table


def told(code: str, note: str = "") -> Cell:
    """Give a code as a link to its story; empty for none."""
    return Cell(code, href=story_of(code) if code else "", note=note)


def reels_back(reels: Sequence[ReelBack]) -> Table:
    """Tell the reels that rope was on, nearest first."""
    lines = (
        Line((told(reel["code"]), span(reel["from_mm"], reel["to_mm"]), told(reel["wound_from"])))
        for reel in reels
    )
    return build_table(
        columns=("Reel", "Its metres there", "Wound from piece"), lines=lines, folds=True
    )


def heats_back(heats: Iterable[HeatBack]) -> Table:
    """Tell the heats in rope with their analyses."""
    return build_table(
        columns=("Heat", "Steel", "Mill", "In metres of", "Ladle analysis, %"),
        lines=(
            Line(
                (
                    Cell(heat["number"], href=story_of(heat["code"]), note=heat["code"]),
                    heat["steel_name"],
                    heat["mill_name"],
                    Cell(heat["reel"], note=span(heat["from_mm"], heat["to_mm"])),
                    ", ".join(f"{symbol} {value}" for symbol, value in heat["analysis"].items()),
                )
            )
            for heat in heats
        ),
        folds=True,
    )


def documents_back(papers: Iterable[DocumentBack]) -> Table:
    """Tell the makers' documents."""
    lines = (
        Line(
            (
                Cell(paper["number"], href=page_of(paper["code"]), note=paper["code"]),
                paper["kind"],
                paper["form"],
                paper["issued_date"],
            )
        )
        for paper in papers
    )
    return build_table(
        columns=("Mill document", "Kind", "Held as", "Issued"), lines=lines, folds=True
    )


def lots(rows: Iterable[LotRow]) -> Table:
    """Tell fitting lots with their steel."""
    lines = (
        Line(
            (
                told(lot["code"]),
                lot["description"],
                Cell(lot["maker_name"], note=lot["maker_lot_number"]),
                Cell(lot["heat_number"], href=story_of(lot["heat"]) if lot["heat"] else ""),
                Cell(lot["document"], href=page_of(lot["document"])),
            )
        )
        for lot in rows
    )
    return build_table(
        columns=("Lot", "Fitting", "Maker", "Heat", "Document"), lines=lines, folds=True
    )


def pieces(rows: Iterable[PieceRow], *, held: set[str]) -> Table:
    """Tell the pieces reached, where they were and where they went."""
    columns = ("Piece", "Purpose", "On reel", "In metres asked for", "Assembly", "Delivery", "To")
    lines = (
        Line(
            (
                told(row["code"]),
                row["purpose"],
                Cell(row["reel"], note=span(row["from_mm"], row["to_mm"])),
                Cell(row["asked_reel"], note="; ".join(span(*pair) for pair in row["touched"])),
                told(row["assembly"]),
                Cell(row["delivery"], href=page_of(row["delivery"])),
                row["customer"],
            ),
            is_held=row["code"] in held,
        )
        for row in rows
    )
    return build_table(columns=columns, lines=lines, folds=True)


def deliveries(rows: Iterable[DeliveryRow]) -> Table:
    """Tell deliveries."""
    lines = (
        Line(
            (
                Cell(row["code"], href=page_of(row["code"])),
                row["delivered_at"][:10],
                row["customer"],
            )
        )
        for row in rows
    )
    return build_table(columns=("Delivery", "Date", "To"), lines=lines, folds=True)


def holds(rows: Iterable[HoldRow]) -> Table:
    """Tell the standing holds."""
    lines = (
        Line(
            (
                Cell(row["code"], href=page_of(row["code"])),
                Cell(row["subject"], href=page_of(row["subject"]), note=row["on"]),
                row["reason"],
                row["placed_at"][:10],
                "it reaches this" if row["reaches"] == "asked" else "on a part made of it",
            ),
            is_held=True,
        )
        for row in rows
    )
    return build_table(
        columns=("Hold", "On", "Reason", "Since", "Reaches"), lines=lines, folds=True
    )


def beside(rows: Iterable[Beside]) -> Table:
    """Tell what was cut around a point, nearest first."""
    columns = (
        "Piece",
        Column("Distance", is_number=True),
        "Purpose",
        "On reel",
        "Mill’s metres",
        "Assembly",
        "Delivery",
        "To",
    )
    lines = (
        Line(
            (
                told(row["piece"]),
                shown_metres(row["distance_mm"]),
                row["purpose"],
                row["reel"],
                span(row["from_mm"], row["to_mm"]),
                told(row["assembly"]),
                Cell(row["delivery"], href=page_of(row["delivery"])),
                row["customer"],
            )
        )
        for row in rows
    )
    return build_table(columns=columns, lines=lines, folds=True)
