from concurrent.futures import ThreadPoolExecutor

import pytest
from django.core.cache import caches
from django.core.management import call_command
from django.db import connection

from inventory.services.rate import wait_s
from tests.factories import MOMENT

ASKED = 40


@pytest.fixture
def counts(settings):
    settings.CACHES = settings.CACHES | {
        "rate": {
            "BACKEND": "inventory.services.shared_counts.SharedCounts",
            "LOCATION": "rate_counts",
        }
    }
    call_command("createcachetable", verbosity=0)
    yield caches["rate"]
    with connection.cursor() as cursor:
        cursor.execute("DROP TABLE rate_counts")


def test_a_count_grows(db, counts):
    counts.add("asked", 0, 60)
    assert [counts.incr("asked"), counts.incr("asked"), counts.incr("asked", 5)] == [1, 2, 7]
    assert counts.get("asked") == 7


def test_what_nobody_counted_cannot_grow(db, counts):
    with pytest.raises(ValueError, match="no count"):
        counts.incr("asked")


def test_a_count_ends_when_it_was_to_end(db, counts):
    counts.add("asked", 0, 3600)

    def ends():
        with connection.cursor() as cursor:
            cursor.execute("SELECT expires FROM rate_counts")
            return cursor.fetchall()

    before = ends()
    counts.incr("asked")
    assert ends() == before


def test_of_many_who_ask_at_once_none_is_lost(committed_db, counts, settings):
    settings.RATE_LIMITS = {"login": f"{ASKED - 10}/hour"}

    def ask(_number):
        try:
            return wait_s("login", "192.0.2.1", at=MOMENT)
        finally:
            connection.close()

    # In memory, where tests have it, SQLite refuses to read a table that is written to.
    with ThreadPoolExecutor(8 if connection.vendor == "postgresql" else 1) as hands:
        waits = list(hands.map(ask, range(ASKED)))
    assert sum(wait == 0 for wait in waits) == ASKED - 10
