import base64

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.documents.svg import (
    Drawing,
    Spoken,
    drawing,
    element,
    escape,
    image_source,
    linked,
    number,
    shorten,
    text,
    text_width,
)
from tests.drawings import read_drawing


@pytest.mark.parametrize(
    ("value", "written"),
    [
        pytest.param(1.0, "1", id="no trailing zeros"),
        pytest.param(1.256, "1.26", id="two decimals"),
        pytest.param(-0.001, "0", id="no minus before nothing"),
        pytest.param(120.5, "120.5", id="a half"),
        pytest.param(100, "100", id="zeros before the point stay"),
    ],
)
def test_numbers_are_short(value, written):
    assert number(value) == written


@given(st.text())
def test_any_text_comes_back_as_it_was_or_with_replacement_characters(content):
    read = read_drawing(text(content, {"x": 1})).text or ""
    assert len(read) == len(content.replace("\r\n", "\n"))


@given(st.text(st.sampled_from("<>&\"'abc ;")))
def test_marks_of_markup_survive_in_attributes(content):
    assert read_drawing(element("g", {"id": content})).get("id") == content


def test_what_xml_forbids_is_replaced():
    # XML 1.0 section 2.2: U+0000 to U+001F but for tab, newline, return are no characters.
    assert escape("a\x00b\x0bc") == "a\ufffdb\ufffdc"


@pytest.mark.parametrize(
    "href",
    [
        pytest.param("javascript:alert(1)", id="script"),
        pytest.param("data:text/html,x", id="data"),
        pytest.param("//elsewhere.example/", id="another host without a scheme"),
        pytest.param("http://elsewhere.example/", id="not encrypted"),
    ],
)
def test_foreign_links_are_refused(href):
    with pytest.raises(ValueError, match="links to paths of this site"):
        linked("", href=href)


def test_a_link_keeps_its_query():
    link = read_drawing(linked("<g/>", href="/trace/?a=1&b=2", title="R & D"))
    assert (link.tag, link.get("href"), link[0].text) == ("a", "/trace/?a=1&b=2", "R & D")


@given(st.text(min_size=1, max_size=60), st.floats(40, 200))
def test_shortened_text_fits_its_width(content, width):
    assert text_width(shorten(content, size=11, width=width), size=11) <= width


def test_short_text_is_left_alone():
    assert shorten("P-1042", size=11, width=100) == "P-1042"


@pytest.mark.parametrize(
    ("parts", "role"),
    [
        pytest.param(["<g/>"], "img", id="a picture alone"),
        pytest.param(['<a href="/x"/>'], "group", id="links inside must stay reachable"),
    ],
)
def test_a_drawing_speaks(parts, role):
    spoken = Spoken("p", "A <title>", "What & why")
    root = read_drawing(drawing(width=10, height=5, spoken=spoken, parts=parts))
    assert root.get("role") == role
    assert root.get("viewBox") == "0 0 10 5"
    by_id = {child.get("id"): child.text for child in root}
    assert by_id[root.get("aria-labelledby")] == "A <title>"
    assert by_id[root.get("aria-describedby")] == "What & why"


def test_a_drawing_is_printed_by_templates_as_it_is():
    assert Drawing("<svg/>").__html__() == "<svg/>"


def test_an_image_source_holds_the_whole_drawing():
    kind, _, data = image_source("<svg>≥</svg>").partition(",")
    assert (kind, base64.b64decode(data).decode()) == ("data:image/svg+xml;base64", "<svg>≥</svg>")
