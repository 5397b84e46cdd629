import csv
import io
from datetime import datetime, time

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone
from openpyxl import load_workbook

from inventory.models import Person, Preference
from inventory.pages import exporting
from inventory.pages.rendering import ROWS_PER_PAGE
from tests import factories as given


def content(answer):
    return b"".join(answer.streaming_content)


def rows_of_csv(answer):
    return list(csv.reader(io.StringIO(content(answer).decode("utf-8-sig"), newline="")))


def rows_of_xlsx(answer):
    sheet = load_workbook(io.BytesIO(content(answer))).active
    return [[cell.value for cell in row] for row in sheet.iter_rows()]


def test_a_list_is_taken_away_whole_narrowed_and_in_order(as_auditor):
    for number in range(ROWS_PER_PAGE + 5):
        given.given_heat(number=f"4{number:03}")
    given.given_heat(number="99")
    query = "?number=4&sort=number&page=2&format="
    text, book = (as_auditor.get(f"/heats/{query}{kind}") for kind in ("csv", "xlsx"))
    from_csv, from_xlsx = rows_of_csv(text), rows_of_xlsx(book)
    assert [row[1] for row in from_csv[1:]] == [f"4{n:03}" for n in range(ROWS_PER_PAGE + 5)]
    assert [row[1] for row in from_xlsx] == [row[1] for row in from_csv]


def test_a_figure_is_a_number_under_its_unit(as_auditor):
    given.given_reel(length_m=100)
    heads, row = rows_of_csv(as_auditor.get("/reels/?format=csv"))
    assert (heads[3], row[3]) == ("Left (m)", "100.000")
    heads, row = rows_of_xlsx(as_auditor.get("/reels/?format=xlsx"))
    assert (heads[3], row[3]) == ("Left (m)", 100)


def test_days_and_instants_are_such_and_say_the_zone(as_auditor):
    given.given_order()
    heads, row = rows_of_csv(as_auditor.get("/orders/?format=csv"))
    assert heads[-1] == "Placed (UTC)"
    assert datetime.fromisoformat(row[-1]) == given.MOMENT.replace(microsecond=0)
    heads, row = rows_of_xlsx(as_auditor.get("/orders/?format=xlsx"))
    assert row[-1] == given.MOMENT.replace(tzinfo=None, microsecond=0)
    given.given_assembly()
    _, built = rows_of_xlsx(as_auditor.get("/assemblies/?format=xlsx"))
    assert built[4] == datetime.combine(given.MOMENT.date(), time())


# What begins a formula: OWASP, CSV Injection (Testing Guide / community page).
DANGEROUS = ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", '=HYPERLINK("http://x.test")']


@pytest.mark.parametrize("text", DANGEROUS)
def test_what_somebody_typed_is_no_formula(text, as_auditor):
    heat = given.given_heat()
    heat.pk, heat.code, heat.number, heat.steel_name = None, "H-09999", "1", text
    heat.save()
    _, row, _ = rows_of_csv(as_auditor.get("/heats/?format=csv"))
    assert row[2] == f"'{text}"
    book = load_workbook(io.BytesIO(content(as_auditor.get("/heats/?format=xlsx"))))
    cell = book.active["C2"]
    assert cell.data_type == "s"
    assert cell.value.strip() == text.strip()


def test_a_list_beyond_the_limit_is_not_taken_in_part(as_auditor, monkeypatch):
    monkeypatch.setattr(exporting, "MOST_ROWS", 2)
    for _ in range(3):
        given.given_heat()
    answer = as_auditor.get("/heats/?number=4&sort=number&format=csv", follow=True)
    assert answer.redirect_chain[0][0] == "/heats/?number=4&sort=number&"
    assert "This list has 3 heats and a file holds 2 rows. Narrow the list first" in answer.text


def test_the_file_is_named_by_list_and_day_and_asks_the_same_rights(as_auditor, client, as_quality):
    given.given_heat()
    answer = as_auditor.get("/heats/?format=csv")
    assert (
        answer["Content-Disposition"] == f'attachment; filename="heats-{timezone.localdate()}.csv"'
    )
    assert client.get("/heats/?format=csv").status_code == 302
    assert as_quality.get("/people/?format=csv").status_code == 403


def test_rows_are_read_part_by_part(as_auditor, monkeypatch):
    monkeypatch.setattr(exporting, "_ROWS_AT_ONCE", 2)
    for _ in range(5):
        given.given_reel()
    with CaptureQueriesContext(
        connection,
    ) as queries:
        rows = rows_of_csv(as_auditor.get("/reels/?format=csv"))
    assert len(rows) == 6
    # Session, person, the two lists of the filter's choices, count, rows; then cuts and holds of
    # each part, of which the last is empty.
    assert len(queries) <= 8 + 4 * 2 * 3


def test_another_kind_of_file_is_the_page(as_auditor):
    assert "<!doctype html>" in as_auditor.get("/heats/?format=pdf").text


def test_a_file_is_metric_in_the_zone_of_the_reader(as_auditor):
    person = Person.objects.get(pk=as_auditor.session["_auth_user_id"])
    Preference.objects.create(person=person, units="us", time_zone="America/Denver")
    given.given_reel(length_m=100)
    given.given_order()
    heads, row = rows_of_csv(as_auditor.get("/reels/?format=csv"))
    assert (heads[3], row[3]) == ("Left (m)", "100.000")
    heads, row = rows_of_csv(as_auditor.get("/orders/?format=csv"))
    assert heads[-1] == "Placed (America/Denver)"
    assert datetime.fromisoformat(row[-1]) == given.MOMENT.replace(microsecond=0)
