"""A form that is sent twice, as by a double click, acts once."""

import re

import pytest
from django.urls import reverse

from inventory.models import CutPiece
from tests import factories as given

PLAIN = {"purpose": "supply", "near_end": "plain", "far_end": "plain", "length_mm": "12.5"}


@pytest.fixture
def address(db):
    return reverse("inventory:cut", args=[given.given_reel(length_m=100).code])


def token_on(page) -> str:
    return re.search(r'name="once" value="([^"]+)"', page.text)[1]


def test_the_same_form_cuts_one_piece(as_stores, address):
    form = PLAIN | {"once": token_on(as_stores.get(address))}
    first, second = as_stores.post(address, form), as_stores.post(address, form)
    assert first.status_code == 302
    assert "was sent before" in second.text
    assert CutPiece.objects.count() == 1


def test_a_page_opened_anew_cuts_another(as_stores, address):
    for _ in range(2):
        as_stores.post(address, PLAIN | {"once": token_on(as_stores.get(address))})
    assert CutPiece.objects.count() == 2


def test_a_refused_form_may_be_mended_and_sent_again(as_stores, address):
    form = PLAIN | {"once": token_on(as_stores.get(address))}
    refused = as_stores.post(address, form | {"length_mm": "120"})
    assert "its longest is 100.000 m" in refused.text
    assert as_stores.post(address, form).status_code == 302


def test_a_token_that_is_none_of_ours_is_refused(as_stores, address):
    assert "not as we sent it" in as_stores.post(address, PLAIN | {"once": "short"}).text
    assert not CutPiece.objects.exists()
