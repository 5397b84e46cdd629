"""A hand at a story: a stretch of the reel drawn along the map, two presses, and "n more"."""

import pytest

from inventory.rules.roles import Role
from tests.browser.hands import PASS_PHRASE, Hands
from tests.factories import given_person, given_piece, given_reel

pytestmark = pytest.mark.browser

LENGTH_M = 400
# The scale takes a press to the nearest tenth of a metre, and to an end of a stretch within six
# units of the drawing.
NEAR_M = 3.0


@pytest.fixture
def page(server, opened):
    given_person(Role.AUDITOR, password=PASS_PHRASE)
    page = opened()
    Hands(page).sign_in(Role.AUDITOR.value)
    return page


class Bar:
    """The drawn reel: where each of its metres is on the screen."""

    def __init__(self, page, reel):
        self.page = page
        drawing = page.locator(f"#map-{reel.code} .for-wide svg")
        drawing.scroll_into_view_if_needed()
        boxes = [one.bounding_box() for one in drawing.locator("rect[data-from-mm]").all()]
        self.left = min(box["x"] for box in boxes)
        self.width = max(box["x"] + box["width"] for box in boxes) - self.left
        self.middle = boxes[0]["y"] + boxes[0]["height"] / 2
        self.scale = boxes[0]["y"] + boxes[0]["height"] + 16

    def at(self, metre):
        return self.left + self.width * metre / LENGTH_M

    def typed(self):
        fields = [self.page.locator(f".stretch [name={name}]") for name in ("from_mm", "to_mm")]
        return [float(field.input_value() or "nan") for field in fields]


def test_a_stretch_is_drawn_or_pressed_at_its_two_ends(page):
    reel = given_reel(length_m=LENGTH_M)
    piece = given_piece(reel=reel, length_m=100)
    page.goto(f"/trace/?code={reel.code}")
    bar = Bar(page, reel)
    # Drawn from the middle of a piece, backwards: the piece is not opened.
    page.mouse.move(bar.at(250), bar.middle)
    page.mouse.down()
    page.mouse.move(bar.at(200), bar.middle)
    page.mouse.move(bar.at(50), bar.middle)
    page.mouse.up()
    assert bar.typed() == pytest.approx([50, 250], abs=NEAR_M)
    assert page.url.endswith(f"?code={reel.code}")
    # Pressed at two places of the scale; what is near the end of a stretch is that end.
    page.mouse.click(bar.at(300), bar.scale)
    page.mouse.click(bar.at(101), bar.scale)
    assert bar.typed() == pytest.approx([100, 300], abs=NEAR_M)
    assert bar.typed()[0] == 100
    page.get_by_role("button", name="Everything made from these metres").click()
    assert page.locator("#id_from_mm").input_value() == "100"
    # A press on a piece opens its story all the same.
    page.goto(f"/trace/?code={reel.code}")
    page.mouse.click(bar.at(50), bar.middle)
    page.get_by_role("heading", name=f"Story of {piece.code}").wait_for()


def test_the_card_for_many_opens_the_table_that_holds_them(page):
    reel = given_reel(length_m=LENGTH_M)
    pieces = [given_piece(reel=reel, length_m=5) for _ in range(14)]
    page.goto(f"/trace/?code={reel.code}")
    last = page.locator("#genealogy-table").get_by_role("link", name=pieces[-1].code)
    assert not last.is_visible()
    page.locator("#genealogy .for-wide").get_by_role("link", name="3 more").press("Enter")
    last.wait_for()
    assert last.is_visible()
