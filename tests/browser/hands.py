"""What the QA officer's hands do in the browser: type, choose, hand in, press."""

from playwright.sync_api import expect

from tests.certs.claims import force_log
from tests.factories import pdf_bytes

PASS_PHRASE = "seven strands of wire"


class Hands:
    """One signed-in person at one page."""

    def __init__(self, page):
        self.page = page

    def fill(self, **typed):
        for name, text in typed.items():
            self.page.locator(f'[name="{name}"]').fill(text)

    def choose(self, **chosen):
        for name, label in chosen.items():
            self.page.locator(f'select[name="{name}"]').select_option(label=label)

    def hand_in(self, name, *, file_name, media_type, content):
        file = {"name": file_name, "mimeType": media_type, "buffer": content}
        self.page.locator(f'input[name="{name}"]').set_input_files(file)

    def press(self, button):
        self.page.get_by_role("button", name=button, exact=True).click()

    def follow(self, link):
        self.page.get_by_role("link", name=link, exact=True).first.click()

    def arrive(self, heading):
        """Wait for a page: a form that is sent by script leads on by a header, when it is there."""
        expect(self.page.get_by_role("heading", level=1)).to_have_text(heading, timeout=20_000)

    def sign_in(self, username):
        self.page.goto("/")
        self.fill(username=username, password=PASS_PHRASE)
        self.press("Sign in")

    def receive(self, mill):
        self.follow("Receive a reel")
        self.fill(designation="12 7x7 1770 B")
        self.page.locator("#understood").get_by_text("right ordinary lay").wait_for()
        self.fill(mill=mill.name, mill_reel_number="MR-1", length_mm="1000", location="Bay 1")
        heat = {"number": "70001", "steel_name": "C78D", "analysis": "C 0.78\nMn 0.62"}
        self.fill(**{f"heat-0-{name}": text for name, text in heat.items()})
        self.fill(number="MTC-1", issued_date="2026-01-15", validated_by="Head of inspection")
        self.choose(kind="3.1 inspection certificate")
        document = pdf_bytes("MTC-1")
        self.hand_in("file", file_name="m.pdf", media_type="application/pdf", content=document)
        # It goes without leaving the page; what was received leads on.
        with self.page.expect_navigation(url="**/receiving-checks/*/"):
            self.press("Receive this reel")

    def prove(self, assembly, machine):
        self.page.goto(f"/tests/proof/record/?assembly={assembly.code}")
        self.choose(machine=str(machine))
        self.fill(required_n="40", required_hold_s="60", rule="as ordered")
        log = force_log(peak_n=41_000, hold_s=65)
        self.hand_in("log", file_name="bench.csv", media_type="text/csv", content=log)
        self.page.locator('input[name="before"][value="good"]').check()
        self.page.locator('input[name="after"][value="good"]').check()
        self.press("Record the test")
