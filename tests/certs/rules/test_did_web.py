"""Identifiers as the examples of the did:web Method Specification write them."""

import pytest

from certs.rules.did_web import did_of, key_address


@pytest.mark.parametrize(
    ("origin", "did"),
    [
        pytest.param("https://w3c-ccg.github.io", "did:web:w3c-ccg.github.io", id="host"),
        pytest.param("https://example.com:3000", "did:web:example.com%3A3000", id="with a port"),
        pytest.param("http://127.0.0.1:8000", "did:web:127.0.0.1%3A8000", id="one machine"),
    ],
)
def test_published_identifiers(origin, did):
    assert did_of(origin) == did


def test_an_origin_without_a_host_is_refused():
    with pytest.raises(ValueError, match="no host"):
        did_of("rope.example")


def test_a_key_is_a_part_of_its_document():
    assert key_address("did:web:rope.example", "one") == "did:web:rope.example#one"
