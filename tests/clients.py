"""Clients of the test server, signed in as a role."""

from django.test import Client

from inventory.rules.roles import Role
from tests.factories import given_person


def client_of(role: Role) -> Client:
    client = Client()
    client.force_login(given_person(role))
    return client
