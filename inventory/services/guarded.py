"""Writes rows so that what the database refuses reaches the reader in words.

Fields are checked first; then constraints and guards have the last word, whoever came in between.
"""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TypeVar

from django.apps import apps
from django.core.exceptions import ValidationError
from django.db import IntegrityError, models, transaction

from inventory.models.ledger_guards import OVERLAP
from inventory.rules.refusal import Refusal

RowT = TypeVar("RowT", bound=models.Model)

# PostgreSQL refuses an overlap by a constraint, which has a name but no sentence of its own.
_SENTENCES = {OVERLAP: "These metres have left the reel already."}
# By the code under which a field of a row complains.
_TO_DO = {
    "blank": "enter it; it cannot be left empty.",
    "null": "enter it; it cannot be left empty.",
    "max_length": "shorten it to {limit_value} characters; it has {show_value}.",
    "invalid_choice": "“{value}” is none of the choices; choose one of them.",
}
_GUARD = re.compile(r"guard \w+: (.+)")
_CHECK = re.compile(r"CHECK constraint failed: (\w+)")
_UNIQUE = re.compile(r"UNIQUE constraint failed: (.+)")


def add_row(row: RowT, *, refusal: type[Refusal]) -> RowT:
    """Check the fields of a new row and insert it.

    Raises:
        Refusal: of the class given, when a field, a constraint or a guard refuses.
    """
    check_fields(row, refusal=refusal)
    with guarded(refusal):
        row.save(force_insert=True)
    return row


def change_row(row: models.Model, *fields: str, refusal: type[Refusal]) -> None:
    """Check the fields of a changed row and save these.

    Raises:
        Refusal: of the class given, when a field, a constraint or a guard refuses.
    """
    check_fields(row, refusal=refusal)
    with guarded(refusal):
        row.save(update_fields=fields)


def check_fields(row: models.Model, *, refusal: type[Refusal]) -> None:
    """Refuse a row with a field that is empty, too long or not one of its choices."""
    # Related rows are given as rows: asking the database whether they exist would tell nothing.
    related = {field.name for field in row._meta.concrete_fields if field.is_relation}
    try:
        row.clean_fields(exclude=related)
    except ValidationError as error:
        name, complaints = next(iter(error.error_dict.items()))
        label = str(row._meta.get_field(name).verbose_name).capitalize()  # type: ignore[union-attr]
        message = f"{label}: {_what_to_do(complaints[0])}"
        raise refusal(message, field=name) from error


@contextmanager
def guarded(refusal: type[Refusal]) -> Iterator[None]:
    """Run writes in a savepoint; raise what a constraint or a guard refuses as `refusal`."""
    try:
        with transaction.atomic():
            yield
    except IntegrityError as error:
        sentence = sentence_of(error)
        if sentence is None:
            raise
        raise refusal(sentence) from error


def _what_to_do(complaint: ValidationError) -> str:
    """Say it in the words of this house, where it is one of the usual complaints."""
    words = _TO_DO.get(str(complaint.code))
    return words.format(**complaint.params or {}) if words else complaint.messages[0]


def sentence_of(error: IntegrityError) -> str | None:
    """What the guard or constraint that refused has to say; None when it is none of ours."""
    text = str(error)
    guard = _GUARD.search(text)
    if guard is not None:
        return f"{guard[1][0].upper()}{guard[1][1:]}."
    name = _constraint_name(error, text)
    if name in _SENTENCES:
        return _SENTENCES[name]
    return next((_said_by(c) for c in _constraints() if c.name == name), None)


def _constraint_name(error: IntegrityError, text: str) -> str | None:
    diagnosis = getattr(error.__cause__, "diag", None)
    if diagnosis is not None:  # PostgreSQL
        return str(diagnosis.constraint_name)
    check = _CHECK.search(text)
    if check is not None:
        return check[1]
    unique = _UNIQUE.search(text)
    return _unique_over(unique[1].split(", ")) if unique else None


def _unique_over(columns: list[str]) -> str | None:
    """SQLite names the columns of a unique constraint instead of the constraint."""
    for model in apps.get_models():
        for constraint in model._meta.constraints:
            if isinstance(constraint, models.UniqueConstraint):
                fields = [model._meta.get_field(name) for name in constraint.fields]
                spelled = [f"{model._meta.db_table}.{field.column}" for field in fields]  # type: ignore[union-attr]
                if spelled == columns:
                    return constraint.name
    return None


def _constraints() -> Iterator[models.BaseConstraint]:
    for model in apps.get_models():
        yield from model._meta.constraints


def _said_by(constraint: models.BaseConstraint) -> str:
    if constraint.violation_error_message != constraint.default_violation_error_message:
        return str(constraint.violation_error_message)
    return f"This breaks a rule of the record: {constraint.name.replace('_', ' ')}."
