"""Looks that every series of numbers is gapless, from 1 to the last number that was taken.

A draft that was thrown away keeps its number: its entry in the journal stands for it.
"""

from collections.abc import Iterator
from typing import Final

from django.apps import apps
from django.db import models

from certs.queries.audit.acts import DISCARD_DRAFT
from certs.queries.audit.rows import audited_models, manager_of
from certs.queries.audit.scratch import Scratch
from certs.rules.disagreement import Disagreement, What
from inventory.models import NumberSeries

CHUNK = 2000
# Columns that hold a number of a series beside `code`, batches that no act writes, and the table
# whose codes are random.
_NUMBERED: Final = (
    ("certs.Certificate", "draft_code"),
    ("certs.Certificate", "number"),
    ("certs.IssueBatch", "code"),
)
_RANDOM: Final = "certs.Tag"


def series_without_gap(scratch: Scratch) -> Iterator[Disagreement]:
    """Compare every series with the numbers that rows and entries bear."""
    for model, column in numbered_columns():
        values = manager_of(model).exclude(**{column: None}).values_list("pk", column)
        rows = values.order_by("pk").iterator(chunk_size=CHUNK)
        scratch.take(_taken(rows, model._meta.label))
    scratch.take(_taken(((0, code) for code in scratch.subjects(DISCARD_DRAFT)), "discarded draft"))
    last = dict(NumberSeries.objects.values_list("series", "last"))
    for series in sorted({*last, *scratch.series()}):
        yield from _gaps(series, last.get(series, 0), scratch)


def numbered_columns() -> list[tuple[type[models.Model], str]]:
    """Return every column whose values are numbers of a series."""
    coded = [
        (model, "code")
        for model in audited_models()
        if model._meta.label != _RANDOM
        and any(field.attname == "code" for field in model._meta.concrete_fields)
    ]
    return [*coded, *((apps.get_model(label), column) for label, column in _NUMBERED)]


def _taken(rows: Iterator[tuple[int, str]], label: str) -> Iterator[tuple[str, int, str]]:
    for pk, code in rows:
        series, _, number = code.rpartition("-")
        if number.isdecimal():
            yield series, int(number), f"{label}:{pk}"


def _gaps(series: str, last: int, scratch: Scratch) -> Iterator[Disagreement]:
    many, least, greatest = scratch.span(series)
    where = f"number series {series}"
    if greatest > last:
        yield Disagreement(What.SERIES, where, f"no number above {last}", f"number {greatest}")
    gaps = list(scratch.gaps(series))
    if least > 1 or not many:
        gaps.insert(0, (1, least - 1 if many else last))
    if many and greatest < last:
        gaps.append((greatest + 1, last))
    for first, final in gaps:
        if first <= final:
            span = str(first) if first == final else f"{first} to {final}"
            yield Disagreement(What.SERIES, where, f"number {span}", "nothing that bears it")
