"""Decides how the letters of a recall stand in tables, and what is known of each customer."""

from collections.abc import Iterable, Sequence

from django.urls import reverse

from certs.models import RecallNotice
from certs.pages.addresses import page_of
from certs.queries.recall_notices import CustomerStanding
from certs.queries.recall_of_hold import codes_in
from inventory.documents.reel_stretches import span
from inventory.pages.reading import day, moment
from inventory.pages.table import Cell, Line, Table, build_table
from inventory.rules.tag_code import grouped


def state_of(notice: RecallNotice) -> Cell:
    """Tell what became of a letter."""
    if notice.acknowledged_at is not None:
        return Cell("answered", shape="good", note=day(notice.acknowledged_at))
    if notice.sent_at is not None:
        return Cell("sent, no answer yet", shape="wait", note=f"since {day(notice.sent_at)}")
    return Cell("written, not sent", shape="stop")


def table_of_notices(rows: Iterable[RecallNotice]) -> Table:
    """Tell letters with what became of them."""
    return build_table(
        columns=("Letter", "To", "Hold", "Names", "Written", "State"),
        lines=(
            Line(
                (
                    Cell(notice.code, href=page_of(notice.code)),
                    Cell(notice.customer.name, note=notice.customer.code),
                    Cell(
                        notice.hold.code, href=reverse("certs:hold_recall", args=[notice.hold.code])
                    ),
                    ", ".join(codes_in(notice.facts)),
                    moment(notice.written_at),
                    state_of(notice),
                )
            )
            for notice in rows
        ),
        folds=True,
    )


def table_of_standings(rows: Sequence[CustomerStanding]) -> Table:
    """Tell each customer with what he has, and what he was told of it."""
    return build_table(
        columns=("Customer", "Has", "Letters", "Not told yet"),
        lines=(
            Line(
                (
                    Cell(one.customer.name, note=one.customer.code),
                    ", ".join(one.reached.codes),
                    ", ".join(f"{letter.code} ({state_of(letter).text})" for letter in one.letters),
                    Cell(", ".join(one.unwritten.codes), shape="stop")
                    if one.unwritten.codes
                    else Cell(""),
                ),
                is_held=bool(one.unwritten.codes),
            )
            for one in rows
        ),
        folds=True,
    )


def table_of_items(notice: RecallNotice) -> Table:
    """Tell the items that a letter names, as it names them."""
    return build_table(
        columns=("Item", "What it is", "Rope in doubt", "Tags", "Delivery"),
        lines=(
            Line(
                (
                    Cell(item["code"], href=page_of(item["code"])),
                    item["what"],
                    "; ".join(
                        f"{piece['code']}: {_touched(piece['touched'])} of {piece['asked_reel']}"
                        for piece in item["pieces"]
                    ),
                    ", ".join(grouped(tag) for tag in item["tags"]),
                    Cell(item["delivery"], href=page_of(item["delivery"])),
                )
            )
            for item in notice.facts["items"]
        ),
        folds=True,
    )


def table_of_papers(notice: RecallNotice) -> Table:
    """Tell the papers that a letter names, as they stood when it was written."""
    return build_table(
        columns=("Paper", "What it is", "Issued", "Then on record as"),
        lines=(
            Line(
                (
                    Cell(paper["number"], href=page_of(paper["number"])),
                    paper["what"],
                    day(paper["issued_at"]),
                    paper["state"],
                )
            )
            for paper in notice.facts["papers"]
        ),
        folds=True,
    )


def _touched(pairs: Iterable[Sequence[int]]) -> str:
    return ", ".join(span(*pair) for pair in pairs)
