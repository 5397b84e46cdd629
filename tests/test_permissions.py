"""Every address is asked for by a stranger and by each role, with each method.

Nothing is on record while they ask, so whoever gets through finds nothing there (404), or is told
what his input lacks; nobody gets through whom the table does not name. Callers are signed in once
for all addresses of an area, and what a request did is taken back before the next one.
"""

import pytest
from django.test import Client
from django.urls import reverse

from inventory.models import JournalEntry
from inventory.rules.roles import Role
from tests.clients import asked_for_nothing, client_of
from tests.endpoints import (
    METHODS,
    Endpoint,
    address,
    api_addresses,
    api_endpoints,
    by_area,
    page_paths,
)
from tests.permission_matrix import MAY, STRANGER

CALLERS = (STRANGER, *Role)
ADDRESSES = tuple(dict.fromkeys([*page_paths(), *(found.path for found in api_endpoints())]))
OTHERS = [
    Endpoint(method, path)
    for path in ADDRESSES
    for method in METHODS
    if Endpoint(method, path) not in MAY
]
KEPT_FROM_STRANGERS = [row for row in MAY if row.method != "GET" and STRANGER not in MAY[row]]


@pytest.fixture
def clients(db):
    return {STRANGER: Client()} | {role: client_of(role) for role in Role}


def asked(client, endpoint):
    return asked_for_nothing(client, endpoint.method, address(endpoint.path))


def is_asked_to_sign_in(answer):
    if answer.status_code == 302:
        return answer["Location"].startswith(f"{reverse('login')}?")
    return answer.status_code == 401


def gets_through(caller, answer):
    if is_asked_to_sign_in(answer):
        assert caller == STRANGER
        return False
    return answer.status_code != 403


def test_every_address_has_a_row():
    assert set(ADDRESSES) - {row.path for row in MAY} == set()


def test_every_row_has_an_address():
    assert {row.path for row in MAY} - set(ADDRESSES) == set()


def test_the_api_serves_what_has_a_row_and_nothing_else():
    assert {row for row in MAY if row.is_api} == set(api_endpoints())


def test_nothing_hides_from_the_list_of_endpoints():
    assert api_addresses() == []


@pytest.mark.parametrize("endpoints", by_area(MAY).values(), ids=by_area(MAY))
def test_who_gets_through(clients, endpoints):
    wrong = {}
    for endpoint in endpoints:
        answers = {caller: asked(clients[caller], endpoint) for caller in CALLERS}
        through = {caller for caller in CALLERS if gets_through(caller, answers[caller])}
        statuses = {answers[caller].status_code for caller in through}
        if through != MAY[endpoint] or 405 in statuses or max(statuses, default=0) >= 500:
            wrong[str(endpoint)] = {who: answer.status_code for who, answer in answers.items()}
    assert wrong == {}


@pytest.mark.parametrize("endpoints", by_area(OTHERS).values(), ids=by_area(OTHERS))
def test_no_other_method_is_served(clients, endpoints):
    served = {}
    for endpoint in endpoints:
        for caller in (STRANGER, Role.QA_OFFICER, Role.ADMINISTRATOR):
            answer = asked(clients[caller], endpoint)
            is_sent_away = caller == STRANGER and is_asked_to_sign_in(answer)
            if not is_sent_away and answer.status_code != 405:
                served[f"{endpoint} as {caller}"] = answer.status_code
    assert served == {}


@pytest.mark.parametrize(
    "endpoints", by_area(KEPT_FROM_STRANGERS).values(), ids=by_area(KEPT_FROM_STRANGERS)
)
def test_an_auditor_leaves_nothing_behind(auditor, endpoints):
    client, entries = client_of(Role.AUDITOR), JournalEntry.objects.count()
    for endpoint in endpoints:
        answer = getattr(client, endpoint.method.lower())(address(endpoint.path))
        if Role.AUDITOR not in MAY[endpoint]:
            assert answer.status_code == 403, str(endpoint)
            assert not endpoint.is_api or "auditor" in answer.json()["problem"]
        assert JournalEntry.objects.count() == entries, str(endpoint)
