"""Listens to a page for what no page of ours may do: fail, complain, or break its own policy."""

from dataclasses import dataclass, field

from playwright.sync_api import ConsoleMessage, Page, Request, Response

BAD_REQUEST = 400
# Chromium calls a navigation that turns into a saved file aborted.
SAVED = "net::ERR_ABORTED"


@dataclass
class Watch:
    """What a page complained of; a breach of the content policy is an error on the console."""

    page: Page
    complaints: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Listen from now on."""
        self.page.on("pageerror", lambda error: self.complaints.append(f"script: {error}"))
        self.page.on("console", self._said)
        self.page.on("requestfailed", self._failed)
        self.page.on("response", self._answered)

    def _said(self, message: ConsoleMessage) -> None:
        if message.type in {"error", "warning"}:
            self.complaints.append(f"console: {message.text}")

    def _failed(self, request: Request) -> None:
        if request.failure != SAVED:
            self.complaints.append(f"{request.failure}: {request.url}")

    def _answered(self, response: Response) -> None:
        if response.status >= BAD_REQUEST:
            self.complaints.append(f"{response.status}: {response.url}")
