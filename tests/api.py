"""A client of the API for tests: signed in by token, as a program would be."""

from typing import Any

from rest_framework.authtoken.models import Token
from rest_framework.test import APIClient

from inventory.models import Person


def client_for(person: Person) -> APIClient:
    """A client with this person's token."""
    token, _ = Token.objects.get_or_create(user=person)
    client = APIClient()
    client.credentials(HTTP_AUTHORIZATION=f"Token {token.key}")
    return client


def post(client: APIClient, path: str, body: dict[str, Any] | None = None, **extra: Any) -> Any:
    """Post JSON and return what came back, which must be a success."""
    answer = client.post(f"/api/{path}", body or {}, format=extra.pop("format", "json"), **extra)
    assert answer.status_code in {200, 201}, (answer.status_code, answer.content)
    return answer.json()


def get(client: APIClient, path: str, **query: Any) -> Any:
    """Get JSON, which must be there."""
    answer = client.get(f"/api/{path}", query)
    assert answer.status_code == 200, (answer.status_code, answer.content)
    return answer.json()
