"""Decides how the receiving checks that a paper rests on stand in a table, from its snapshot."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from certs.pages.addresses import page_of
from certs.pages.found_points import OUTCOME_SHAPES, SHAPES
from certs.rules.finding import Verdict
from inventory.pages.table import Cell, Line, Table, build_table


def table_of_receiving(checks: Iterable[Mapping[str, Any]]) -> Table | None:
    """Put the checks into a table, each with its points; None where the paper holds none."""
    lines = [line for check in checks for line in _lines(check)]
    columns = ("Reel", "Point", "Found", "State")
    return build_table(columns=columns, lines=lines, folds=True) if lines else None


def _lines(check: Mapping[str, Any]) -> Iterator[Line]:
    code = Cell(check["check"], href=page_of(check["check"]))
    outcome = Cell(check["outcome_text"], shape=OUTCOME_SHAPES[check["outcome"]])
    yield Line((Cell(check["reel"], href=page_of(check["reel"])), "Check", code, outcome))
    for point in check["points"]:
        state = Cell(Verdict(point["verdict"]).words, shape=SHAPES[point["verdict"]])
        found = Cell(point["text"], note=point["source"])
        yield Line((check["reel"], point["topic"], found, state))
    if check["decision"]:
        yield Line((check["reel"], "Decision", check["decision"], Cell("accepted", shape="good")))
