"""Parts of an address: RFC 3986, 3.2 (authority: userinfo, host without regard to case, port)."""

import pytest

from certs.rules.scanned import strange_house

OURS = ["https://rope.example", "http://127.0.0.1:8000"]


@pytest.mark.parametrize(
    ("text", "strange"),
    [
        pytest.param("HTTPS://ROPE.EXAMPLE/T/7Q4K9M2ZXR3T8VW2", "", id="a tag of ours"),
        pytest.param("http://127.0.0.1:8000/reels/R-00001/", "", id="this machine"),
        pytest.param("http://127.0.0.1:8001/reels/R-00001/", "127.0.0.1:8001", id="another port"),
        pytest.param("https://rope.example@evil.example/t/1", "evil.example", id="our name first"),
        pytest.param(
            "https://rope.example.evil.example/", "rope.example.evil.example", id="longer"
        ),
        pytest.param("https://evil.example?https://rope.example", "evil.example", id="ours behind"),
        pytest.param("ftp://evil.example/t/1", "evil.example", id="another scheme"),
        pytest.param("mailto:someone@rope.example", "mailto:someone@rope.example", id="no host"),
        pytest.param("//evil.example/", "//evil.example/", id="no scheme"),
        pytest.param("R-00001", "", id="a code"),
        pytest.param("7Q4K-9M2Z-XR3T-8VW2", "", id="a tag in groups"),
        pytest.param("12 m", "", id="a length"),
        pytest.param("", "", id="nothing"),
    ],
)
def test_an_address_of_another_house_is_told_apart(text, strange):
    assert strange_house(text, origins=OURS) == strange
