"""Fixtures for the journeys."""

import pytest

from certs.services.load_specifications import load_specifications
from tests.certs.claims import FOLDER


@pytest.fixture
def tables(db) -> None:
    """The specification tables as they come with the program."""
    load_specifications(folder=FOLDER)
