import pytest

from tests.api import client_for


@pytest.fixture
def qa(qa_officer):
    return client_for(qa_officer)


@pytest.fixture
def bench(bench_hand):
    return client_for(bench_hand)


@pytest.fixture
def admin(administrator):
    return client_for(administrator)
