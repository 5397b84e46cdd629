"""Holds every row of the record against the last journal entry that names it.

A row that no entry names was put in, a row that is named and not there was deleted, and a row of
another hash was changed. `UNJOURNALLED` says which tables no act writes.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import Final

from django.apps import apps
from django.db import models

from certs.models import IssueBatch, IssueBatchLine, specification
from certs.queries.audit.scratch import Bound, Scratch
from certs.rules.disagreement import Disagreement, What
from inventory.models import (
    Checkpoint,
    JournalEntry,
    JournalHead,
    MerkleNode,
    NumberSeries,
    Preference,
    SentForm,
)
from inventory.queries.row_binding import bound_columns, row_key, salted_columns
from inventory.rules.row_digest import row_digest, salted_digest

CHUNK = 1000
# The journal is compared with itself, and so is what is made from it alone. The number series and
# the forms sent, batches and what people prefer have no acts; the rows of specification tables are
# loaded from files.
UNJOURNALLED: Final = (
    Checkpoint,
    IssueBatch,
    IssueBatchLine,
    JournalEntry,
    JournalHead,
    MerkleNode,
    NumberSeries,
    Preference,
    SentForm,
)


def audited_models() -> list[type[models.Model]]:
    """Return every model whose rows are written by acts, by label."""
    found = [*apps.get_app_config("inventory").get_models()]
    found += apps.get_app_config("certs").get_models()
    return sorted(
        (m for m in found if m not in UNJOURNALLED and not is_loaded(m)),
        key=lambda model: model._meta.label,
    )


def manager_of(model: type[models.Model]) -> models.Manager[models.Model]:
    """Return the manager of a model that is known only when the audit runs."""
    return model._default_manager  # noqa: SLF001 -- Django's name


def is_loaded(model: type[models.Model]) -> bool:
    """Tell whether a model is a specification table: bound where a basis rests on its row."""
    return issubclass(model, specification.TableRow)


def rows_against_entries(
    scratch: Scratch, *, salts: Mapping[int, str], tell: Callable[[str], None]
) -> Iterator[Disagreement]:
    """Compare every row with what the journal says of it.

    Args:
        salts: by the primary key of who acted; somebody forgotten has none.
    """
    expected = audited_models()
    known = {model._meta.label: model for model in expected}
    for label in scratch.labels():
        if label not in known:
            yield from _another(label, scratch, salts)
    for model in expected:
        tell(f"rows of {model._meta.label}")
        yield from _rows(model, scratch, salts, are_all_bound=True)


def _another(label: str, scratch: Scratch, salts: Mapping[int, str]) -> Iterator[Disagreement]:
    """Compare what is bound of a table that is not written by acts."""
    try:
        model = apps.get_model(label)
    except (LookupError, ValueError):
        yield Disagreement(What.ROW_GONE, label, "a table of this program", "no such table")
        return
    yield from _rows(model, scratch, salts, are_all_bound=False)


def _rows(
    model: type[models.Model], scratch: Scratch, salts: Mapping[int, str], *, are_all_bound: bool
) -> Iterator[Disagreement]:
    """Go through rows and bindings side by side, both by primary key."""
    bindings = scratch.bound(model._meta.label)
    bound = next(bindings, None)
    try:
        for row in manager_of(model).order_by("pk").iterator(chunk_size=CHUNK):
            while bound is not None and bound.pk < row.pk:
                yield from _gone(bound)
                bound = next(bindings, None)
            if bound is not None and bound.pk == row.pk:
                yield from _compared(row, bound, salts)
                bound = next(bindings, None)
            elif are_all_bound:
                yield Disagreement(What.ROW_ADDED, _where(row), "an entry that names it", "none")
    except (TypeError, ValueError) as error:
        yield Disagreement(What.UNREADABLE, model._meta.label, "rows that can be read", str(error))
        return
    while bound is not None:
        yield from _gone(bound)
        bound = next(bindings, None)


def _gone(bound: Bound) -> Iterator[Disagreement]:
    if bound.digest is not None:
        where = f"{bound.label}:{bound.pk}"
        said = f"the row that journal entry {bound.number} wrote"
        yield Disagreement(What.ROW_GONE, where, said, "no row")


def _compared(row: models.Model, bound: Bound, salts: Mapping[int, str]) -> Iterator[Disagreement]:
    said = f"as of journal entry {bound.number}"
    if bound.digest is None:
        yield Disagreement(What.ROW_ADDED, _where(row), f"thrown away {said}", "a row")
        return
    digest = row_digest(bound_columns(row))
    if digest != bound.digest:
        yield Disagreement(What.ROW_CHANGED, _where(row), f"{bound.digest} {said}", digest)
    if bound.by not in salts:
        return
    columns = salted_columns(row)
    named = salted_digest(columns, salt=salts[bound.by]) if columns else None
    if named != bound.named:
        where = f"{_where(row)}, {', '.join(columns) or 'names'}"
        yield Disagreement(What.NAME_CHANGED, where, f"{bound.named} {said}", str(named))


def _where(row: models.Model) -> str:
    """Name a row by its key and, where it has one, by the code that people know; never a tag's."""
    code = getattr(row, "code", "") or getattr(row, "number", "") or ""
    is_tag = row._meta.label == "certs.Tag"
    return f"{row_key(row)} ({code})" if code and not is_tag else row_key(row)
