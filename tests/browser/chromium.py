"""Starts the Chromium of this machine, silent towards the network."""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, sync_playwright

FLAGS = [
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@contextmanager
def started() -> Iterator[Browser]:
    """Give the browser, which is Debian's: Playwright brings none of its own here."""
    path = shutil.which("chromium")
    if path is None:
        raise RuntimeError("Chromium is missing: run .tools/system-packages --test")
    # As root, as in a container, Chromium has no sandbox to start in.
    flags = [*FLAGS, "--no-sandbox"] if os.getuid() == 0 else FLAGS
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=flags)
        try:
            yield browser
        finally:
            browser.close()
