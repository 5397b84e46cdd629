"""Makes the demonstration in a folder of its own and serves it, as on a real machine."""

import os
import re
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Page

ROOT = Path(__file__).parent.parent.parent
PASSWORD = "metre-by-metre"
PATIENCE_S = 30


@dataclass(frozen=True, slots=True)
class Served:
    """Where the demonstration is served, and its tags as they were told when it was made."""

    origin: str
    tags: tuple[str, ...]


@contextmanager
def served(folder: Path) -> Iterator[Served]:
    """Serve the demonstration."""
    origin = f"http://127.0.0.1:{free_port()}"
    hidden = {"SECRET_KEY", "DATABASE_URL", "DEMO_PASSWORD", "DJANGO_ALLOW_ASYNC_UNSAFE"}
    environment = {name: text for name, text in os.environ.items() if name not in hidden}
    # What tags and papers say of where they lead is not this machine's passing address.
    environment |= {"STORAGE_ROOT": str(folder), "PUBLIC_ORIGIN": "https://rope.example"}
    environment |= {"HTTPS_ONLY": "false", "MFA_REQUIRED": "false"}
    environment |= {"ISSUER_ADDRESS": "1 Invented Quay, Nowhere"}
    # Many pages are asked for by one address within a minute.
    environment |= {"RATE_LIMITS": "tag=9999/min,check=9999/min,report=9999/min"}

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
        yield Served(origin, tuple(re.findall(r"/t/(\w+)", said)))
    finally:
        server.terminate()
        server.wait()


def sign_in(page: Page, username: str) -> None:
    """Sign in as a person of the demonstration; nobody, where there is no name."""
    if not username:
        return
    page.goto("/sign-in/")
    page.fill("[name=username]", username)
    page.fill("[name=password]", PASSWORD)
    page.get_by_role("button", name="Sign in", exact=True).click()
    page.wait_for_url("**/")


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
