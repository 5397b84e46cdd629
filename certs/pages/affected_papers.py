"""Decides how papers that state more than the record supports are told, and how to act on them."""

from collections.abc import Iterable

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from certs.pages.addresses import page_of
from certs.pages.rendering import allowed_acts, show
from certs.queries.papers_affected import AffectedPaper, papers_affected
from certs.queries.stated_strengths import Overstated
from certs.rules.roles import ClaimAct
from inventory.pages.acting import signed_in
from inventory.pages.reading import day
from inventory.pages.table import Cell, Column, Line, Table, build_table
from inventory.rules.tag_code import grouped

RATE_AGAIN = "rate it again"


@signed_in
def affected_papers(request: HttpRequest) -> HttpResponse:
    """Every paper in force that states more than a failed test leaves."""
    table = table_of_affected(papers_affected(), allowed=allowed_acts(request))
    return show(request, "certs/affected_papers.html", area="certificates", table=table)


def table_of_affected(papers: Iterable[AffectedPaper], *, allowed: Iterable[str]) -> Table:
    """Tell each value that is overstated, with the ways to act for those who may."""
    acts = [
        (word, name)
        for act, word, name in (
            (ClaimAct.SUPERSEDE_CERTIFICATE, "Correct", "certs:correct"),
            (ClaimAct.WITHDRAW_CERTIFICATE, "Withdraw", "certs:withdraw"),
        )
        if act.value in set(allowed)
    ]
    columns: tuple[str | Column, ...] = (
        "Paper",
        "Purchaser",
        "Tag",
        "What",
        Column("States", is_number=True),
        Column("Supported at most", is_number=True),
        "By test",
        *(word for word, _ in acts),
    )
    lines = (
        _line(paper, one, acts, is_first=not index)
        for paper in papers
        for index, one in enumerate(paper.overstated)
    )
    return build_table(columns=columns, lines=lines, folds=True)


def _line(
    paper: AffectedPaper, one: Overstated, acts: list[tuple[str, str]], *, is_first: bool
) -> Line:
    """Tell one value; the ways to act stand beside the first value of each paper."""
    return Line(
        (
            Cell(paper.number, href=page_of(paper.number), note=f"issued {day(paper.issued_at)}"),
            paper.customer_code or "none named",
            grouped(paper.tag_code),
            one.quantity,
            one.stated,
            one.supported or RATE_AGAIN,
            Cell(paper.tests[0], href=page_of(paper.tests[0])),
            *(
                Cell(word, href=reverse(name, args=[paper.number])) if is_first else Cell("")
                for word, name in acts
            ),
        )
    )
