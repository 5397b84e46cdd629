"""kill -9 while a certificate is issued: it is whole or it is not there, and no number is lost."""

import hashlib
import json

import pytest

from tests.journeys.own_database import own_database, rows, run_journey

POINTS, MOMENTS = 21, 4
JOURNAL = "SELECT number, canonical, leaf_hash, chain_hash FROM inventory_journalentry ORDER BY 1"


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    folder = tmp_path_factory.mktemp("killed")
    with own_database(folder) as (environment, connect):
        told = json.loads(run_journey(environment, "killed_issuer", str(POINTS), str(MOMENTS)))
        print(f"{told['points']} points, {len(told['killed'])} kills")  # noqa: T201 -- the figures
        yield told, rows(connect, JOURNAL), list((folder / "files").rglob("*.*"))


@pytest.fixture
def killed(house):
    return house[0]["killed"]


def test_the_points_cover_statements_files_and_the_commit(house, killed):
    assert house[0]["points"] > 300
    assert house[0]["writing"] > 40
    died = [kill for kill in killed if kill["signal"] == -9]
    assert len(died) >= POINTS
    assert {kill["is_whole"] for kill in died} == {True, False}


def test_after_each_kill_the_paper_is_whole_or_is_not_there(killed):
    for kill in killed:
        assert kill["whole_papers"] == len(kill["numbers"]) == kill["issued"], kill["when"]


def test_after_each_kill_no_number_is_lost_and_none_given_twice(killed):
    for kill in killed:
        wanted = [f"CL-{kill['numbers'][0][3:7]}-{n:05d}" for n in range(1, kill["issued"] + 1)]
        assert kill["numbers"] == kill["journalled"] == wanted, kill["when"]
        assert kill["last"] == kill["issued"], kill["when"]


def test_the_files_of_a_killed_act_are_swept_and_nothing_else_is(house):
    told, _, files = house
    assert told["killed"][-1]["orphans"] == told["end"]["swept"] > 0
    assert told["end"]["orphans"] == 0
    assert len(files) == told["end"]["files"]


def test_issuing_goes_on_with_the_next_number(killed, house):
    end = house[0]["end"]
    assert (end["signal"], end["is_whole"]) == (0, True)
    assert end["last"] == killed[-1]["last"] + 1


def test_the_journal_is_one_chain_to_its_end(house):
    """Every link again from the text, by SHA-256 alone (leaf as in RFC 9162, 2.1.1)."""
    link = hashlib.sha256(b"").digest()
    for place, (number, canonical, leaf_hash, chain_hash) in enumerate(house[1]):
        leaf = hashlib.sha256(b"\x00" + canonical.encode()).digest()
        link = hashlib.sha256(b"\x02" + link + leaf).digest()
        assert (number, leaf_hash, chain_hash) == (place, leaf.hex(), link.hex())
