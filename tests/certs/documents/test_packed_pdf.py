import zlib

import pytest

from certs.documents.handed_in_paper import read_handed_in
from certs.documents.packed_pdf import MOST_UNPACKED, may_be_opened
from tests.certs.documents.verifier import handed_out


def packed(data, head=b"/Filter /FlateDecode"):
    return b"%PDF-1.7\n1 0 obj\n<<" + head + b">>\nstream\n" + data + b"\nendstream\nendobj\n"


SMALL = zlib.compress(b"words")
HALF = zlib.compress(bytes(MOST_UNPACKED // 2 + 1))


def test_a_paper_of_ours_may_be_opened_and_is_read():
    paper = handed_out.issued()["paper.pdf"]
    assert may_be_opened(paper)
    assert read_handed_in(paper).credential is not None


@pytest.mark.parametrize(
    ("pdf", "may"),
    [
        pytest.param(packed(SMALL), True, id="a little"),
        pytest.param(packed(HALF), True, id="much"),
        pytest.param(packed(HALF) + packed(HALF), False, id="too much together"),
        pytest.param(packed(zlib.compress(bytes(MOST_UNPACKED + 1))), False, id="too much"),
        pytest.param(packed(SMALL, b"/Filter [/FlateDecode]"), True, id="one in a list"),
        pytest.param(packed(SMALL, b"/Filter [/FlateDecode /FlateDecode]"), False, id="twice"),
        pytest.param(packed(SMALL, b"/Filter 5 0 R"), False, id="said elsewhere"),
        pytest.param(packed(SMALL, b"/Filter /LZWDecode"), False, id="another way"),
        pytest.param(packed(SMALL, b"/#46ilter 5 0 R"), False, id="hidden from a search"),
        pytest.param(packed(SMALL, b"/Encrypt 5 0 R"), False, id="encrypted"),
        pytest.param(packed(b"no zlib"), True, id="not packed"),
    ],
)
def test_what_unpacks_without_end_is_not_opened(pdf, may):
    assert may_be_opened(pdf) is may


def test_of_what_may_not_be_opened_nothing_is_read():
    assert not read_handed_in(packed(SMALL, b"/Encrypt 5 0 R")).is_readable
