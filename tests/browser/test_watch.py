"""The watch itself: each kind of complaint is heard, and a good page has none."""

import pytest

from tests.browser.watch import Watch

pytestmark = pytest.mark.browser

POLICY = """<meta http-equiv="Content-Security-Policy" content="script-src 'none'">"""


@pytest.fixture
def watch(browser):
    context = browser.new_context()
    yield Watch(context.new_page())
    context.close()


@pytest.mark.parametrize(
    ("html", "heard"),
    [
        pytest.param("<script>nothing()</script>", "nothing is not defined", id="script"),
        pytest.param(f"{POLICY}<script>1</script>", "Content Security Policy", id="policy"),
        pytest.param('<img src="http://127.0.0.1:9/x.png">', "net::ERR_", id="request"),
    ],
)
def test_a_bad_page_is_heard(watch, html, heard):
    watch.page.set_content(html)
    watch.page.wait_for_load_state("networkidle")
    assert heard in " ".join(watch.complaints)


def test_an_answer_that_there_is_no_such_page_is_heard(watch, server):
    watch.page.goto(f"{server}/nowhere/")
    assert f"404: {server}/nowhere/" in watch.complaints


def test_a_good_page_is_silent(watch, server):
    watch.page.goto(f"{server}/sign-in/")
    assert watch.complaints == []
