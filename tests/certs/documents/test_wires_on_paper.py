"""What a printed certificate tells of the wire tests of its rope, and what it does without any."""

import io
import json

import pypdf
import pytest

from certs.documents.certificate_pdf import certificate_pdf
from inventory.queries.kept_files import read_file
from tests.certs.papers import given_certifiable_piece, given_cut_length_draft, issued
from tests.certs.wires import given_paper_test, given_wire_test
from tests.factories import given_machine

pytestmark = pytest.mark.usefixtures("tables")


@pytest.fixture
def piece():
    return given_certifiable_piece()


def text_of(pdf):
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def printed(piece):
    return text_of(read_file(issued(given_cut_length_draft(piece)).pdf))


def test_code_method_sum_factor_and_force_are_printed(piece):
    test = given_wire_test(reel=piece.reel)
    text = printed(piece)
    assert f"{test.code} of" in text
    assert "method 2: wires taken from the rope" in text
    assert f"{test.sum_n / 1000:g} kN × 0.92" in text
    assert "spinning loss: type test report 12 (invented)" in text
    assert "the lowest of 0.93, 0.92, 0.94" in text
    assert "supports the marked grade" in text
    assert "A calculated force is no actual breaking force" in text
    assert "98.9 kN" in text  # the certified force: 0.388 x 12² x 1770 / 1000, EN 12385-4


def test_a_paper_of_the_maker_and_a_missing_factor_are_printed(piece):
    given_paper_test(piece.reel, spinning_factors=(), spinning_source="")
    text = printed(piece)
    assert "method 3: wires before laying" in text
    assert "Wire report 7 (invented)" in text
    assert "none, 98.9 kN required" in text


def test_a_doubt_is_printed(piece):
    given_wire_test(reel=piece.reel, machine=given_machine(is_calibrated=False))
    assert "In doubt No calibration of this machine is on record" in printed(piece)


def test_without_a_wire_test_nothing_is_printed_of_any(piece):
    assert "Wire test" not in printed(piece)


def test_a_paper_of_earlier_days_knows_of_no_wire_tests_and_prints(piece):
    snapshot = json.loads(issued(given_cut_length_draft(piece)).snapshot)
    for rope in snapshot["ropes"]:
        del rope["wire_tests"]
    assert "Wire test" not in text_of(certificate_pdf(snapshot, canonical=json.dumps(snapshot)))
