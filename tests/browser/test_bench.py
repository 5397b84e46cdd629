"""Cutting by scanner in a real browser, and the camera before a code (a fake one, of one film)."""

import os
import shutil

import pytest
import zxingcpp
from PIL import Image

from certs.models import Tag
from inventory.models import CutPiece
from inventory.rules.roles import Role
from tests.browser.chromium import FLAGS
from tests.browser.hands import PASS_PHRASE, Hands
from tests.browser.watch import Watch
from tests.factories import given_person, given_reel

pytestmark = pytest.mark.browser
MOST_ACTIONS = 4


# Chromium without a screen has no dialogue to print a PDF with, and dies of asking for one.
NO_DIALOGUE = "window.print = () => { parent.document.body.dataset.printed = location.pathname }"


class Storekeeper:
    """One hand at the bench: what it scans, types and presses is counted."""

    def __init__(self, page):
        self.page, self.actions = page, 0
        page.add_init_script(NO_DIALOGUE)

    def scan(self, text):
        """A wedge types into whatever has the focus, then Enter, as a hand does a length."""
        self.page.keyboard.type(text)
        with self.page.expect_navigation():
            self.page.keyboard.press("Enter")
        self.actions += 1

    def press(self, button):
        self.page.locator("main").get_by_role("button", name=button).first.click()
        self.actions += 1

    def print_at_once(self, *, is_wanted):
        self.page.get_by_label("Print each label at once").set_checked(is_wanted)

    def printed(self):
        self.page.locator('body[data-printed="/cutting/label/"]').wait_for()
        return Tag.objects.count()


@pytest.fixture
def hand(server, opened):
    given_person(Role.STORES, password=PASS_PHRASE)
    page = opened()
    Hands(page).sign_in(Role.STORES.value)
    hand = Storekeeper(page)
    page.goto("/cutting/")
    return hand


def test_cut_and_label_take_three_actions_and_the_next_fewer(hand, server):
    reel, other = given_reel(length_m=100), given_reel()
    hand.scan(f"{server}/REELS/{reel.code}")
    hand.scan("12,5")
    hand.press("Label P-00001")
    assert hand.printed() == 1
    assert hand.actions <= MOST_ACTIONS
    assert hand.actions == 3
    # Where each label is printed at once, the next piece takes one.
    hand.print_at_once(is_wanted=True)
    hand.scan("40 ft")
    assert hand.printed() == 2
    assert [piece.length_mm for piece in CutPiece.objects.order_by("id")] == [12_500, 12_192]
    # Another reel, scanned where a length is awaited.
    hand.print_at_once(is_wanted=False)
    hand.scan(other.code)
    hand.scan("3")
    hand.press("Undo")
    hand.page.get_by_text("is undone").wait_for()
    assert CutPiece.objects.get(reel=other).is_reversed


def film(path, text):
    """Write a film of one picture as the fake camera reads it (YUV4MPEG2, grey)."""
    made = zxingcpp.create_barcode(text, zxingcpp.BarcodeFormat.QRCode)
    drawn = Image.fromarray(zxingcpp.write_barcode_to_image(made, scale=8)).convert("L")
    ground = Image.new("L", (640, 480), 160)
    ground.paste(drawn.rotate(8, expand=True, fillcolor=255), (150, 60))
    frame = b"FRAME\n" + ground.tobytes() + bytes([128]) * (320 * 240 * 2)
    path.write_bytes(b"YUV4MPEG2 W640 H480 F10:1 Ip A1:1 C420jpeg\n" + frame * 3)
    return path


def test_the_camera_reads_a_code_and_leads_on(server, browser, tmp_path):
    reel = given_reel()
    given_person(Role.STORES, password=PASS_PHRASE)
    flags = [
        *FLAGS,
        "--use-fake-ui-for-media-stream",
        "--use-fake-device-for-media-stream",
        f"--use-file-for-fake-video-capture={film(tmp_path / 'seen.y4m', reel.code)}",
    ]
    flags += ["--no-sandbox"] if os.getuid() == 0 else []
    seeing = browser.browser_type.launch(executable_path=shutil.which("chromium"), args=flags)
    try:
        watch = Watch(seeing.new_page(base_url=server, permissions=["camera"]))
        hands = Hands(watch.page)
        hands.sign_in(Role.STORES.value)
        watch.page.goto("/scan/?for=cutting")
        watch.page.wait_for_url("**/cutting/?reel=*", timeout=20_000)
        assert reel.designation in watch.page.locator("main").inner_text()
        assert watch.complaints == []
    finally:
        seeing.close()
