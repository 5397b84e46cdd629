"""Full disk, no folder, no keys, a locked or lost database: told in words, and nothing is lost."""

import json

import pytest

from tests.journeys.own_database import SERVER, own_database, run_journey

SAID = {
    "no room": ("There is no room left", True),
    "no folder": ("The storage of files cannot be written", True),
    "no keys": ("KEYS_ROOT", False),
    "locked": ("The record is busy with somebody else's act", True),
}
if SERVER:
    SAID["lost"] = ("The database cannot be reached", True)


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    folder = tmp_path_factory.mktemp("failing")
    with own_database(folder) as (environment, _):
        yield json.loads(run_journey(environment, "failing_machine"))


@pytest.mark.parametrize("failure", SAID)
def test_it_says_what_fails(house, failure):
    words, is_trouble = SAID[failure]
    told = house["met"][failure]
    assert words in told["said"]
    assert told["is_trouble"] is is_trouble


@pytest.mark.parametrize("failure", SAID)
def test_the_draft_stays_a_draft_and_no_number_is_lost(house, failure):
    told, before = house["met"][failure], house["before"]
    assert told["state"] == "draft"
    for kept in ("numbers", "last", "journalled", "whole_papers"):
        assert told[kept] == before[kept]


def test_when_it_is_mended_the_same_draft_gets_the_next_number(house):
    assert house["told"]["said"] == "issued"
    assert house["after"]["last"] == house["before"]["last"] + 1
    assert house["after"]["numbers"] == house["after"]["journalled"]
