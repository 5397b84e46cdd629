"""Clients of the test server, signed in as a role."""

from copy import deepcopy
from typing import Any

from django.db import transaction
from django.test import Client

from inventory.rules.roles import Role
from tests.factories import given_person


def client_of(role: Role) -> Client:
    client = Client()
    client.force_login(given_person(role))
    return client


def asked_for_nothing(client: Client, method: str, path: str, **more: Any) -> Any:
    """The answer to a request whose traces are taken back: one client serves for many."""
    cookies = deepcopy(client.cookies)
    with transaction.atomic():
        answer = getattr(client, method.lower())(path, **more)
        transaction.set_rollback(True)
    client.cookies = cookies
    return answer
