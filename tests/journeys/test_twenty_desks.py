"""Twenty issuers, cutters, holders and test benches at once: no deadlock, no act lost."""

import json
import subprocess
import sys
from itertools import pairwise

import pytest

from tests.journeys.own_database import ROOT, SERVER, own_database, rows, run_journey

CUTS = "SELECT from_mm, to_mm FROM inventory_cutpiece WHERE NOT is_reversed ORDER BY from_mm"
ACTS = "SELECT act, COUNT(*) FROM inventory_journalentry GROUP BY act"
NUMBERS = "SELECT number FROM certs_certificate WHERE state = 'issued' ORDER BY number"
DEADLOCKS = "SELECT deadlocks FROM pg_stat_database WHERE datname = current_database()"
ACT_OF = {
    "issue": "issue_certificate",
    "hold": "release_hold",
    "break": "record_breaking_test",
}


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    folder = tmp_path_factory.mktemp("desks")
    with own_database(folder) as (environment, connect):
        seen = json.loads(run_journey(environment, "twenty_desks"))
        print(figures(seen))  # noqa: T201 -- the figures
        yield seen, environment, connect


def figures(seen):
    desks = seen["desks"]
    issuers = [desk for desk in desks if desk["way"] == "issue"]
    again = sum(desk["printed"] for desk in issuers) - sum(desk["done"] for desk in issuers)
    done, refused = sum(d["done"] for d in desks), sum(len(d["refused"]) for d in desks)
    slowest = max(desk["slowest_s"] for desk in desks)
    return (
        f"{len(desks)} processes, {done} acts in {seen['took_s']} s, {refused} refused,"
        f" {again} papers rendered again, slowest act {slowest} s"
    )


def of(house, way):
    return [desk for desk in house[0]["desks"] if desk["way"] == way]


def test_all_twenty_were_there_at_once(house):
    assert len({desk["process"] for desk in house[0]["desks"]}) == 20


@pytest.mark.parametrize("way", ACT_OF)
def test_every_act_that_was_done_stands_in_the_journal_once(house, way):
    acts = dict(rows(house[2], ACTS))
    assert acts[ACT_OF[way]] == sum(desk["done"] for desk in of(house, way)) > 0


def test_nobody_cuts_in_vain(house):
    """They ask for the first clear metres, so there is nothing to refuse."""
    assert [desk["refused"] for desk in of(house, "cut")] == [[]] * 8


def test_who_is_refused_is_told_to_do_it_again(house):
    told = {message for desk in house[0]["desks"] for message in desk["refused"]}
    assert [message for message in told if "at this very moment" not in message] == []


def test_no_metre_is_cut_twice_and_no_number_left_out(house):
    cuts = rows(house[2], CUTS)
    assert all(before[1] <= after[0] for before, after in pairwise(cuts))
    numbers = [number for (number,) in rows(house[2], NUMBERS)]
    assert numbers == [f"CL-2026-{n:05d}" for n in range(1, len(numbers) + 1)]


def test_the_record_passes_its_audit(house):
    called = [sys.executable, "manage.py", "audit"]
    ran = subprocess.run(
        called, cwd=ROOT, env=house[1], capture_output=True, text=True, check=False
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr


@pytest.mark.skipif(not SERVER, reason="SQLite has one writer at a time")
def test_the_server_saw_no_deadlock(house):
    assert rows(house[2], DEADLOCKS) == [(0,)]
