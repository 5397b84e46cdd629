"""Twenty operating-system processes cut one reel at once, on a database that really commits."""

import hashlib
import json
from itertools import pairwise

import pytest

from tests.journeys.own_database import (
    SERVER,
    migrated,
    postgresql_database,
    rows,
    run_journey,
    sqlite_file,
)

ENGINES = [sqlite_file, postgresql_database] if SERVER else [sqlite_file]


@pytest.fixture(params=ENGINES)
def database(request, tmp_path):
    with request.param(tmp_path) as (url, connect):
        yield migrated(url, tmp_path), connect


CUTS = "SELECT from_mm, to_mm FROM inventory_cutpiece WHERE NOT is_reversed ORDER BY from_mm"
LENGTH = "SELECT length_mm FROM inventory_reel"
JOURNAL = "SELECT number, canonical, leaf_hash, chain_hash FROM inventory_journalentry ORDER BY 1"


def test_through_the_services_twenty_clients_keep_one_ledger(database):
    environment, connect = database
    seen = json.loads(run_journey(environment, "twenty_clients", "service"))
    assert len({client["process"] for client in seen["clients"]}) == 20
    cut = sum(client["cut"] for client in seen["clients"])
    assert cut + sum(client["refused"] for client in seen["clients"]) == 20 * 12
    assert cut > 100
    cuts = rows(connect, CUTS)
    assert len(cuts) == cut
    cut_mm = sum(client["cut_mm"] for client in seen["clients"])
    assert_one_ledger(cuts, length_mm=rows(connect, LENGTH)[0][0], cut_mm=cut_mm)
    assert_one_journal(connect, acts=cut)
    codes = sorted(code for (code,) in rows(connect, "SELECT code FROM inventory_cutpiece"))
    assert codes == [f"P-{n:05d}" for n in range(1, cut + 1)]


def assert_one_ledger(cuts, *, length_mm, cut_mm):
    """No millimetre left twice, none past the end, and just those that the clients were given."""
    assert all(before[1] <= after[0] for before, after in pairwise(cuts))
    assert cuts[0][0] >= 0
    assert cuts[-1][1] <= length_mm
    assert sum(to_mm - from_mm for from_mm, to_mm in cuts) == cut_mm


def assert_one_journal(connect, *, acts):
    """Every link again from the text, by SHA-256 alone (leaf as in RFC 9162, 2.1.1)."""
    entries = rows(connect, JOURNAL)
    assert [entry[0] for entry in entries] == list(range(len(entries)))
    assert sum(json.loads(entry[1])["act"] == "cut_piece" for entry in entries) == acts
    link = hashlib.sha256(b"").digest()
    for number, canonical, leaf_hash, chain_hash in entries:
        leaf = hashlib.sha256(b"\x00" + canonical.encode()).digest()
        link = hashlib.sha256(b"\x02" + link + leaf).digest()
        assert (leaf_hash, chain_hash) == (leaf.hex(), link.hex())
        assert json.loads(canonical)["number"] == number
    head = rows(connect, "SELECT size, chain_hash FROM inventory_journalhead")
    assert [tuple(row) for row in head] == [(len(entries), link.hex())]


def test_past_the_services_the_database_lets_one_of_twenty_have_a_metre(database):
    environment, connect = database
    seen = json.loads(run_journey(environment, "twenty_clients", "bare"))
    assert sum(client["cut"] for client in seen["clients"]) == 12
    assert sum(client["refused"] for client in seen["clients"]) == 19 * 12
    assert rows(connect, CUTS) == [(n * 1000, n * 1000 + 1000) for n in range(12)]
