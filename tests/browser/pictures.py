"""Takes pictures of the running program: python -m tests.browser.pictures

Makes the demonstration in a folder of its own, serves it, and takes every main page on a desk and
on a phone into `.pictures`, and those of the README into `fixtures/pictures`. A page that
complains, or is wider than its screen, is told, and the exit code is 1.
"""

import os
import re
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, Page

from tests.browser.chromium import started
from tests.browser.shots import PUBLIC, README, SIGNED_IN, Shot
from tests.browser.thumbnail import page_of_pdf, write_small
from tests.browser.watch import Watch

ROOT = Path(__file__).parent.parent.parent
ALL = ROOT / ".pictures"
WIDTHS = {"desk": (1440, 900), "phone": (390, 844)}
TALLEST = 6_000
PASSWORD = "metre-by-metre"
PATIENCE_S = 30


def main() -> int:
    """Take every picture; give the exit code."""
    ALL.mkdir(exist_ok=True)
    with (
        tempfile.TemporaryDirectory() as folder,
        served(Path(folder)) as (origin, said),
        started() as browser,
    ):
        complaints = [text for size in WIDTHS for text in tour(browser, origin, said, size)]
    for text in complaints:
        sys.stderr.write(f"{text}\n")
    return 1 if complaints else 0


@contextmanager
def served(folder: Path) -> Iterator[tuple[str, str]]:
    """Serve the demonstration; give its origin and what making it said."""
    origin = f"http://127.0.0.1:{free_port()}"
    hidden = {"SECRET_KEY", "DATABASE_URL", "DEMO_PASSWORD"}
    environment = {name: text for name, text in os.environ.items() if name not in hidden}
    # What tags and papers say of where they lead is not this machine's passing address.
    environment |= {"STORAGE_ROOT": str(folder), "PUBLIC_ORIGIN": "https://rope.example"}
    environment |= {"HTTPS_ONLY": "false", "MFA_REQUIRED": "false"}
    environment |= {"ISSUER_ADDRESS": "1 Invented Quay, Nowhere"}

    def run(*command: str) -> str:
        done = subprocess.run(
            [sys.executable, *command],
            cwd=ROOT, env=environment, check=True, capture_output=True, text=True,
        )  # fmt: skip
        return done.stdout

    run("manage.py", "migrate", "--no-input", "-v0")
    said = run("manage.py", "demo")
    command = ["-m", "gunicorn", "certs.project.wsgi", "--bind", origin.removeprefix("http://")]
    server = subprocess.Popen(
        [sys.executable, *command, "--threads", "4", "--no-control-socket"],
        cwd=ROOT, env=environment, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    try:
        await_answer(f"{origin}/healthz")
        yield origin, said
    finally:
        server.terminate()
        server.wait()


def tour(browser: Browser, origin: str, said: str, size: str) -> Iterator[str]:
    """Take every page on one size of screen; yield what is wrong with it."""
    width, height = WIDTHS[size]
    context = browser.new_context(base_url=origin, viewport={"width": width, "height": height})
    page = context.new_page()
    watch = Watch(page)
    tags = re.findall(r"/t/(\w+)", said)
    for shot in PUBLIC:
        yield from take(page, shot, size, tags=tags)
    page.goto("/sign-in/")
    page.fill("[name=username]", "qa")
    page.fill("[name=password]", PASSWORD)
    page.get_by_role("button", name="Sign in", exact=True).click()
    for shot in SIGNED_IN:
        yield from take(page, shot, size, tags=tags)
    paper = page.request.get("/certificates/AT-2026-00001/pdf/").body()
    page_of_pdf(paper, README["certificate-paper"])
    yield from (f"{size}: {text}" for text in watch.complaints)
    context.close()


def take(page: Page, shot: Shot, size: str, *, tags: list[str]) -> Iterator[str]:
    """Take one page; tell if it is wider than the screen."""
    width, _ = WIDTHS[size]
    page.goto(shot.path.format(*tags))
    for name, text in shot.typed:
        page.fill(f"[name={name}]", text)
    if shot.press:
        with page.expect_navigation():
            page.get_by_role("button", name=shot.press, exact=True).click()
    shown = page.evaluate("document.documentElement.scrollWidth")
    if shown > width:
        yield f"{size}: {shot.name} is {shown} px wide"
    tall = min(page.evaluate("document.documentElement.scrollHeight"), TALLEST)
    clip = {"x": 0, "y": 0, "width": width, "height": tall}
    page.screenshot(path=ALL / f"{shot.name}-{size}.png", clip=clip, full_page=True)
    if shot.name in README and size == shot.readme_size:
        clip["y"] = top_of(page, shot.readme_from)
        clip["height"] = min(tall - clip["y"], shot.readme_height)
        write_small(page.screenshot(clip=clip, full_page=True), README[shot.name])


def top_of(page: Page, heading: str) -> int:
    """Tell how far down the page a heading stands, in px, with a little room above."""
    if not heading:
        return 0
    return int(page.get_by_role("heading", name=heading, exact=True).bounding_box()["y"]) - 20


def free_port() -> int:
    """Give a port that nobody listens on."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


def await_answer(address: str) -> None:
    """Wait until the server answers."""
    for _ in range(PATIENCE_S * 10):
        try:
            urllib.request.urlopen(address, timeout=5).close()  # noqa: S310 -- our own server
        except OSError:
            time.sleep(0.1)
        else:
            return
    raise TimeoutError(address)


if __name__ == "__main__":
    sys.exit(main())
