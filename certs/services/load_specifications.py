"""Loads the specification tables from their files; loading twice changes nothing.

A row is never removed, and one that a certificate's strength rests on is never changed: both are
reported instead. The tables come with the program, so no person is asked and the journal is not
written; what a certificate takes from them is frozen into it.
"""

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from django.core.exceptions import ValidationError
from django.db import transaction

from certs.models import ForceFactor, StrengthBasis, TabulatedForce
from certs.models.specification import TableRow
from certs.queries.specification_columns import TABLE_FILES, TableFile
from inventory.rules.refusal import Refusal


class CannotLoad(Refusal):
    """A specification file is missing, incomplete or contradicts itself."""


@dataclass(frozen=True, slots=True)
class TableCount:
    """What loading one file did. The keys of rows left alone are named."""

    file_name: str
    in_file: int
    added: int
    changed: int
    unchanged: int
    in_use: tuple[str, ...]
    not_in_file: tuple[str, ...]

    @property
    def has_changed(self) -> bool:
        """Tell whether the table is another than before."""
        return bool(self.added or self.changed)


def load_specifications(*, folder: Path) -> tuple[TableCount, ...]:
    """Load every specification file of a folder, all or none.

    Raises CannotLoad, which names the file and, where it is one, the row.
    """
    rows = {table.file_name: _read(folder / table.file_name, table) for table in TABLE_FILES}
    with transaction.atomic():
        return tuple(_load(table, rows[table.file_name]) for table in TABLE_FILES)


def _load(table: TableFile, rows: Sequence[Mapping[str, str]]) -> TableCount:
    held = {row.key: row for row in table.model.objects.all()}
    wanted = {table.row_key(row): table.fields(row) for row in rows}
    frozen = _keys_in_use(table.model)
    new = [table.model(key=key, **fields) for key, fields in wanted.items() if key not in held]
    changed, in_use = [], []
    for key, fields in wanted.items():
        if key not in held or _says(held[key], fields):
            continue
        if key in frozen:
            in_use.append(key)
            continue
        for name, value in fields.items():
            setattr(held[key], name, value)
        changed.append(held[key])
    for row in (*new, *changed):
        _check(table, row)
    table.model.objects.bulk_create(new)
    if changed:
        table.model.objects.bulk_update(changed, list(table.fields(rows[0])))
    return TableCount(
        file_name=table.file_name,
        in_file=len(wanted),
        added=len(new),
        changed=len(changed),
        unchanged=len(wanted) - len(new) - len(changed) - len(in_use),
        in_use=tuple(in_use),
        not_in_file=tuple(sorted(held.keys() - wanted.keys())),
    )


def _read(path: Path, table: TableFile) -> list[dict[str, str]]:
    try:
        with path.open(newline="", encoding="utf-8") as file:
            reader = csv.DictReader(file, strict=True)
            rows = list(reader)
    except FileNotFoundError as missing:
        message = f"The specification file {table.file_name} is missing."
        raise CannotLoad(message) from missing
    columns = set(reader.fieldnames or ())
    absent = sorted((set(table.columns.values()) | set(table.key)) - columns - {"note"})
    if absent:
        message = f"{table.file_name} lacks the column {', '.join(absent)}."
        raise CannotLoad(message)
    seen: set[str] = set()
    for row in rows:
        key = table.row_key(row)
        if key in seen:
            message = f"{table.file_name} gives this row twice: {key}."
            raise CannotLoad(message)
        seen.add(key)
    return rows


def _says(row: TableRow, fields: Mapping[str, object]) -> bool:
    return all(getattr(row, name) == value for name, value in fields.items())


def _keys_in_use(model: type[TableRow]) -> set[str]:
    bases = StrengthBasis.objects.all()
    if model is ForceFactor:
        return set(bases.filter(factor__isnull=False).values_list("factor__key", flat=True))
    if model is TabulatedForce:
        return set(bases.filter(tabulated__isnull=False).values_list("tabulated__key", flat=True))
    return set()


def _check(table: TableFile, row: TableRow) -> None:
    try:
        row.clean_fields()
    except ValidationError as wrong:
        message = f"{table.file_name}, row {row.key}: {' '.join(wrong.messages)}"
        raise CannotLoad(message) from wrong
