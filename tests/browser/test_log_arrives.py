"""What a force log shows arrives under its field, and nothing that is looked at moves."""

import pytest

from inventory.rules.roles import Role
from tests.browser.hands import PASS_PHRASE, Hands
from tests.browser.survey import WATCH_SHIFTS
from tests.certs.claims import force_log
from tests.factories import given_assembly, given_machine, given_person

pytestmark = pytest.mark.browser

TWO_FRAMES = """
() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done())))
"""


def choose(hands, content):
    hands.hand_in("log", file_name="bench.csv", media_type="text/csv", content=content)


# What moved is added up as the browser's Layout Instability interface tells it: 0 is nothing.
@pytest.mark.parametrize(("width", "height"), [(1440, 900), (360, 740)], ids=["desk", "phone"])
def test_a_log_is_shown_and_another_that_cannot_be_read(width, height, server, opened):
    given_person(Role.TEST_BENCH, password=PASS_PHRASE)
    assembly, machine = given_assembly(), given_machine()
    hands = Hands(opened(width, height))
    page = hands.page
    page.add_init_script(WATCH_SHIFTS)
    hands.sign_in(Role.TEST_BENCH.value)
    page.goto(f"/tests/proof/record/?assembly={assembly.code}")
    hands.choose(machine=str(machine))
    hands.fill(required_n="40", required_hold_s="60")
    page.locator("#id_log-field").evaluate("field => field.scrollIntoView()")
    choose(hands, force_log(peak_n=41_000, hold_s=65))
    page.locator("#preview svg").first.wait_for()
    page.evaluate(TWO_FRAMES)
    assert page.evaluate("shifted") == 0
    choose(hands, b"no log at all")
    page.locator("#preview .preview-note").wait_for()
    page.evaluate(TWO_FRAMES)
    assert page.evaluate("shifted") == 0
