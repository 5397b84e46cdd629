"""Every address is asked for by a stranger and by each role, with each method.

Nothing is on record while they ask, so whoever gets through finds nothing there (404), or is told
what his input lacks; nobody gets through whom the table does not name.
"""

import pytest
from django.test import Client
from django.urls import reverse

from inventory.models import JournalEntry
from inventory.rules.roles import Role
from tests.clients import client_of
from tests.endpoints import METHODS, Endpoint, address, api_addresses, api_endpoints, page_paths
from tests.permission_matrix import MAY, STRANGER

CALLERS = (STRANGER, *Role)
ADDRESSES = tuple(dict.fromkeys([*page_paths(), *(found.path for found in api_endpoints())]))


def client_for(caller):
    return Client() if caller == STRANGER else client_of(caller)


def asked(client, endpoint):
    return getattr(client, endpoint.method.lower())(address(endpoint.path))


def is_asked_to_sign_in(answer):
    if answer.status_code == 302:
        return answer["Location"].startswith(f"{reverse('login')}?")
    return answer.status_code == 401


def test_every_address_has_a_row():
    assert set(ADDRESSES) - {row.path for row in MAY} == set()


def test_every_row_has_an_address():
    assert {row.path for row in MAY} - set(ADDRESSES) == set()


def test_the_api_serves_what_has_a_row_and_nothing_else():
    assert {row for row in MAY if row.is_api} == set(api_endpoints())


def test_nothing_hides_from_the_list_of_endpoints():
    assert api_addresses() == []


@pytest.mark.parametrize("endpoint", MAY, ids=str)
def test_who_gets_through(db, endpoint):
    through = set()
    for caller in CALLERS:
        answer = asked(client_for(caller), endpoint)
        assert answer.status_code < 500
        if is_asked_to_sign_in(answer):
            assert caller == STRANGER
        elif answer.status_code != 403:
            through.add(caller)
            assert answer.status_code != 405
    assert through == MAY[endpoint]


@pytest.mark.parametrize("path", ADDRESSES)
def test_no_other_method_is_served(db, path):
    others = [Endpoint(method, path) for method in METHODS if Endpoint(method, path) not in MAY]
    for caller in (STRANGER, Role.QA_OFFICER, Role.ADMINISTRATOR):
        client = client_for(caller)
        for endpoint in others:
            answer = asked(client, endpoint)
            is_sent_away = caller == STRANGER and is_asked_to_sign_in(answer)
            assert is_sent_away or answer.status_code == 405, f"{endpoint} as {caller}"


@pytest.mark.parametrize(
    "endpoint", [row for row in MAY if row.method != "GET" and STRANGER not in MAY[row]], ids=str
)
def test_an_auditor_leaves_nothing_behind(auditor, endpoint):
    entries = JournalEntry.objects.count()
    answer = asked(client_for(Role.AUDITOR), endpoint)
    if Role.AUDITOR not in MAY[endpoint]:
        assert answer.status_code == 403
        assert not endpoint.is_api or "auditor" in answer.json()["problem"]
    assert JournalEntry.objects.count() == entries
