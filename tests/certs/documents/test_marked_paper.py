"""The working load limit marked, as the paper prints it."""

import pytest

from inventory.queries.kept_files import read_file
from tests.certs.documents.test_certificate_pdf import text_of
from tests.certs.papers import issued
from tests.certs.queries.test_marks import TWO, drafted

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]


# EN 13414-1:2003 Table 4 prints 2.3 t for two legs of 12 mm, 0 to 45 degrees from the vertical.
def test_the_paper_prints_the_mark_with_its_band_beside_what_is_derived():
    text = text_of(read_file(issued(drafted(2200, **TWO)).pdf))
    assert (
        "Working load limit marked: 2.2 t, at 0 to 45 degrees from the vertical; derived 2.3 t."
        in text
    )
    assert "Nothing heavier than the mark at any angle, even where more is derived." in text
