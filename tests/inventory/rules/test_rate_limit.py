import pytest

from inventory.rules.rate_limit import RateLimit, client_of, read_limit


@pytest.mark.parametrize(
    ("text", "limit"),
    [
        ("1/s", RateLimit(1, 1)),
        ("60/min", RateLimit(60, 60)),
        ("10/hour", RateLimit(10, 3600)),
        ("5/day", RateLimit(5, 86_400)),
    ],
)
def test_a_limit_is_read(text, limit):
    assert read_limit(text) == limit


@pytest.mark.parametrize("text", ["", "60", "60/", "/min", "0/min", "-1/min", "6/week", "1.5/s"])
def test_what_is_no_limit_is_refused(text):
    with pytest.raises(ValueError, match="is no limit"):
        read_limit(text)


# Addresses for documentation: RFC 5737 and RFC 3849.
@pytest.mark.parametrize(
    ("peer", "forwarded", "proxies", "client"),
    [
        ("192.0.2.1", "198.51.100.7", 0, "192.0.2.1"),
        ("192.0.2.1", "", 1, "192.0.2.1"),
        ("192.0.2.1", "198.51.100.7", 1, "198.51.100.7"),
        ("192.0.2.1", "203.0.113.9, 198.51.100.7", 1, "198.51.100.7"),
        ("192.0.2.1", "203.0.113.9, 198.51.100.7", 2, "203.0.113.9"),
        ("192.0.2.1", "198.51.100.7", 5, "198.51.100.7"),
        ("192.0.2.1", " , ", 1, "192.0.2.1"),
        ("local", "", 0, "local"),
        ("::ffff:192.0.2.1", "", 0, "192.0.2.1"),
    ],
    ids=[
        "no proxy of ours: the header is a claim",
        "the proxy said nothing",
        "one proxy",
        "a claim before what the proxy saw",
        "two proxies",
        "fewer than expected",
        "an empty header",
        "no address at all",
        "an old address in a new coat",
    ],
)
def test_who_asks(peer, forwarded, proxies, client):
    assert client_of(peer=peer, forwarded=forwarded, proxies=proxies) == client


def test_all_addresses_of_one_house_are_one_client():
    first, second, other = (
        client_of(peer=peer, forwarded="", proxies=0)
        for peer in ("2001:db8:0:1::1", "2001:db8:0:1:ffff::2", "2001:db8:0:2::1")
    )
    assert first == second != other
