import pytest

from certs.queries.specification_columns import TABLE_FILES
from certs.queries.specification_tables import TABLES, row_counts, rows_of


def test_every_table_that_is_loaded_can_be_read():
    assert {table.model for table in TABLES.values()} == {file.model for file in TABLE_FILES}


@pytest.mark.parametrize("slug", TABLES)
def test_every_shown_column_is_a_field(slug):
    table = TABLES[slug]
    fields = {field.name for field in table.model._meta.fields}
    for column in table.columns:
        asked = {column.field, *column.note_fields, *filter(None, [column.unit_field])}
        assert asked <= fields


def test_every_word_must_stand_in_a_row(tables):
    factors = TABLES["breaking-force-factors"]
    assert rows_of(factors, words="6x7 WSC").count() == 1
    assert rows_of(factors, words="6x7 nowhere").count() == 0
    assert rows_of(factors).count() == row_counts()["breaking-force-factors"] > 0
