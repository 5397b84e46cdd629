"""What was just done is undone from the message that told it; the page's clock is the real one."""

import re

import pytest
from django.urls import reverse

from inventory.models import CutPiece, Hold
from inventory.services.cut import cut_piece
from tests import factories as given

PLAIN = {"purpose": "supply", "near_end": "plain", "far_end": "plain", "length_mm": "12.5"}
BUTTON = re.compile(r'<form class="undo" method="post" action="([^"]+)">')


@pytest.fixture
def told(as_stores):
    """The page after a storekeeper's cut."""
    page = reverse("inventory:cut", args=[given.given_reel().code])
    return as_stores.post(page, PLAIN, follow=True).text


def test_the_message_of_a_cut_bears_the_button_that_undoes_it(as_stores, told):
    (undo,) = BUTTON.findall(told)
    answer = as_stores.post(undo, {"back": "/reels/"})
    assert answer["Location"] == "/reels/"
    assert CutPiece.objects.get().is_reversed
    after = as_stores.get("/reels/").text
    assert "is undone" in after
    assert not BUTTON.search(after)


def test_what_came_too_late_is_said_in_words(as_stores, stores_hand):
    asked = {"from_mm": None, "length_mm": 9, "purpose": "supply"}
    piece = cut_piece(reel=given.given_reel(), **asked, by=stores_hand, at=given.MOMENT)
    answer = as_stores.post(reverse("inventory:undo_cut", args=[piece.code]), follow=True)
    assert "more than 10 minutes ago" in answer.text
    assert not CutPiece.objects.get().is_reversed


@pytest.mark.parametrize("elsewhere", ["https://elsewhere.example/", "//elsewhere.example", ""])
def test_an_undo_leads_to_no_other_house(as_stores, told, elsewhere):
    answer = as_stores.post(*BUTTON.findall(told), {"back": elsewhere})
    assert answer["Location"] == reverse("inventory:piece", args=["P-00001"])


def test_looking_undoes_nothing(as_stores, told):
    assert as_stores.get(*BUTTON.findall(told)).status_code == 405


def test_a_hold_is_undone_by_who_may_release_it(as_quality):
    page = reverse("inventory:place_hold", args=[given.given_reel().code])
    (undo,) = BUTTON.findall(as_quality.post(page, {"reason": "a slip"}, follow=True).text)
    assert "stays on record" in as_quality.post(undo, follow=True).text
    assert Hold.objects.get().released_at is not None


def test_who_may_not_release_a_hold_is_offered_no_undo(as_stores):
    page = reverse("inventory:place_hold", args=[given.given_reel().code])
    assert not BUTTON.search(as_stores.post(page, {"reason": "a slip"}, follow=True).text)
