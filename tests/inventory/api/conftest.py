import pytest

from tests.api import client_for


@pytest.fixture
def qa(qa_officer):
    return client_for(qa_officer)


@pytest.fixture
def stores(stores_hand):
    return client_for(stores_hand)
