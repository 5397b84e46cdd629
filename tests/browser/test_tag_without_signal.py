"""A tag on a phone whose signal goes and comes: what was known is told as such, a hold at once."""

from pathlib import Path

import pytest

from certs.services.tags import issue_tag
from tests.certs.papers import given_certifiable_piece, given_cut_length_draft, issued
from tests.factories import MOMENT, given_hold, given_person

AXE = Path(__file__).parent / "axe" / "axe-4.14.1.min.js"

pytestmark = pytest.mark.browser


@pytest.fixture
def piece(server):
    piece = given_certifiable_piece()
    issued(given_cut_length_draft(piece))
    return piece


def test_without_signal_the_last_answer_is_told_as_such(opened, piece):
    tag = issue_tag(piece=piece, by=given_person(), at=MOMENT)
    page = opened(360, 740)
    page.goto(f"/t/{tag.code}")
    page.wait_for_function(
        "caches.open('tags-1').then((kept) => kept.keys()).then((k) => k.length)"
    )
    assert not page.locator(".signal").is_visible()
    page.context.set_offline(True)
    page.reload()
    assert page.locator(".signal").is_visible()
    assert page.locator("h1").text_content() == "Good on record"
    page.context.set_offline(False)
    given_hold(piece.reel)
    page.reload()
    assert page.locator("h1").text_content() == "Do not use"
    page.wait_for_function(
        "caches.match(location.pathname.toUpperCase(), {ignoreVary: true})"
        ".then((kept) => kept.text()).then((text) => text.includes('>Do not use<'))"
    )
    page.context.set_offline(True)
    page.reload()
    assert page.locator("h1").text_content() == "Do not use"


def test_written_from_the_right_it_fits_a_phone_and_axe_finds_nothing(opened, piece):
    tag = issue_tag(piece=piece, by=given_person(), at=MOMENT)
    page = opened(360, 740)
    page.goto(f"/t/{tag.code}?lang=ar")
    assert page.evaluate("document.documentElement.scrollWidth") == 360
    page.evaluate(AXE.read_text())
    found = page.evaluate("axe.run().then((told) => told.violations.map((one) => one.id))")
    assert found == []


def test_with_text_twice_as_large_nothing_is_cut_off_and_no_load_is_broken(opened, piece):
    # WCAG 2.2, 1.4.4: text can be made twice as large without loss.
    tag = issue_tag(piece=piece, by=given_person(), at=MOMENT)
    page = opened(360, 740)
    page.goto(f"/t/{tag.code}?lang=de")
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    assert page.evaluate("document.documentElement.scrollWidth") == 360
    lines = page.eval_on_selector_all(
        ".big bdi",
        """(loads) => loads.map((load) => {
          const all = document.createRange();
          all.selectNodeContents(load);
          return new Set([...all.getClientRects()].map((line) => Math.round(line.top))).size;
        })""",
    )
    assert lines
    assert set(lines) == {1}
