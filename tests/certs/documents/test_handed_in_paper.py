"""What a file says of itself is read as it was written."""

import pytest

from certs.documents.handed_in_paper import read_handed_in
from certs.documents.paper import print_paper
from tests.certs.documents.signing import AT

PAGE = "<html lang='en-GB'><head><title>Paper</title></head><body><p>10 kN</p></body></html>"


@pytest.mark.parametrize(
    "identifier",
    [
        pytest.param(b"\r" * 16, id="carriage returns, which a PDF reads as line feeds"),
        pytest.param(b"\r\n\\()" + b"\x00" * 11, id="signs with a meaning of their own"),
        pytest.param(bytes(range(240, 256)), id="no text at all"),
    ],
)
def test_an_identifier_is_read_as_it_was_given(identifier):
    pdf = print_paper(PAGE, identifier=identifier, made_at=AT)
    assert read_handed_in(pdf).identifier == identifier
