from datetime import timedelta

import pytest
from django.core.cache import caches

from inventory.services.rate import client_address, wait_s
from tests.factories import MOMENT


@pytest.fixture(autouse=True)
def _three_a_minute(settings):
    settings.RATE_LIMITS = {"tag": "3/min", "check": "1/min"}
    caches["rate"].clear()


def later(seconds):
    return MOMENT + timedelta(seconds=seconds)


def asked(*seconds, who="192.0.2.1", name="tag"):
    return [wait_s(name, who, at=later(second)) for second in seconds]


def test_the_fourth_in_a_minute_waits_until_it_is_over():
    assert asked(0, 1, 2, 10, 59) == [0, 0, 0, 50, 1]


def test_the_next_minute_is_free():
    assert asked(0, 0, 0, 0, 60, 60, 60, 60) == [0, 0, 0, 60, 0, 0, 0, 60]


def test_each_client_is_counted_apart():
    asked(0, 0, 0, 0)
    assert asked(0, who="192.0.2.2") == [0]


def test_each_limit_is_counted_apart():
    asked(0, 0, 0, 0)
    assert asked(0, 0, name="check") == [0, 60]


def test_a_clock_that_was_put_back_shuts_nobody_out():
    asked(3600, 3600, 3600, 3600)
    assert asked(0) == [0]


def test_a_limit_that_nobody_set_lets_nothing_pass():
    with pytest.raises(KeyError):
        wait_s("misspelt", "192.0.2.1", at=MOMENT)


def test_no_address_is_kept():
    asked(0)
    assert not any("192.0.2.1" in key for key in caches["rate"]._cache)  # noqa: SLF001 -- what lies in it is asked


def test_a_server_on_a_socket_has_one_client():
    assert client_address({"REMOTE_ADDR": ""}) == "local"


def test_a_proxy_of_ours_is_believed(settings):
    meta = {"REMOTE_ADDR": "192.0.2.1", "HTTP_X_FORWARDED_FOR": "198.51.100.7"}
    assert client_address(meta) == "192.0.2.1"
    settings.REST_FRAMEWORK = settings.REST_FRAMEWORK | {"NUM_PROXIES": 1}
    assert client_address(meta) == "198.51.100.7"
