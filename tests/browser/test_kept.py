"""What is typed into a long form outlives a lost connection and a closed page."""

import pytest

from inventory.models import Heat
from inventory.rules.roles import Role
from tests.browser.hands import PASS_PHRASE, Hands
from tests.factories import given_mill, given_person

pytestmark = pytest.mark.browser


@pytest.fixture
def hands(server, opened):
    given_person(Role.QA_OFFICER, password=PASS_PHRASE)
    officer = Hands(opened())
    officer.sign_in(Role.QA_OFFICER.value)
    return officer


def kept(page):
    return page.evaluate("Object.keys(localStorage).filter((name) => name.startsWith('kept:'))")


def test_what_was_typed_is_sent_when_the_connection_is_back(hands):
    page, mill = hands.page, given_mill()
    page.goto("/heats/record/")
    page.get_by_label("Maker").select_option(mill.code)
    page.get_by_label("Heat number").fill("40077")
    page.get_by_label("Steel").fill("C78D")
    page.context.set_offline(True)
    page.get_by_role("button", name="Record this heat").click()
    page.get_by_text("No connection: nothing was sent.").wait_for()
    assert page.get_by_label("Heat number").input_value() == "40077"
    assert not Heat.objects.exists()
    page.context.set_offline(False)
    page.get_by_text("The connection is back.").wait_for()
    # The page is closed before it was sent, and opened again.
    page.goto("/heats/")
    page.goto("/heats/record/")
    page.get_by_text("You left this unsent on").wait_for()
    assert page.get_by_label("Heat number").input_value() == ""
    page.get_by_role("button", name="Put it back").click()
    assert page.get_by_label("Steel").input_value() == "C78D"
    page.get_by_role("button", name="Record this heat").click()
    page.get_by_text("Heat 40077 is recorded").wait_for()
    assert Heat.objects.get().steel_name == "C78D"
    assert kept(page) == []
    # What is left unsent goes with whoever signs out.
    page.goto("/heats/record/")
    page.get_by_label("Heat number").fill("40078")
    page.goto("/heats/")
    assert len(kept(page)) == 1
    page.get_by_role("button", name="Sign out").click()
    page.get_by_label("Pass phrase").wait_for()
    assert kept(page) == []
