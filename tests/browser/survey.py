"""Looks a page over: accessibility, moving parts, width, weight, and what it asks the server for.

Accessibility is judged by axe-core 4.14.1 with the rules of WCAG 2.0 to 2.2, levels A and AA, and
its best practices; what a machine cannot judge is not judged here.
"""

from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Page, Request

from tests.browser.shots import Shot

AXE = (Path(__file__).parent / "axe" / "axe-4.14.1.min.js").read_text()
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
# Added up as the browser reports them; what follows at once upon a key or a click does not count.
WATCH_SHIFTS = """
window.shifted = 0;
new PerformanceObserver((list) => {
  for (const entry of list.getEntries()) if (!entry.hadRecentInput) window.shifted += entry.value;
}).observe({type: "layout-shift", buffered: true});
"""
RUN_AXE = """
async ([rules]) => {
  const told = await axe.run(document, {runOnly: {type: "tag", values: rules},
                                        resultTypes: ["violations"]});
  return told.violations.flatMap(v => v.nodes.map(
      n => `${v.id}: ${n.target.join(" ")}: ${(n.failureSummary || "").replace(/\\s+/g, " ")}`));
}
"""
# In another light only colours can differ, and on another width only what is wider than it.
RUN_CONTRAST = """
async () => {
  const told = await axe.run(document, {runOnly: ["color-contrast"], resultTypes: ["violations"]});
  return told.violations.flatMap(v => v.nodes.map(n => `${v.id}: ${n.target.join(" ")}`));
}
"""
# Folded tables and menus are laid out anew; a frame later they stand.
NEXT_FRAME = "() => new Promise(done => requestAnimationFrame(() => done()))"
# The limit within which a page's stability is called good (Core Web Vitals), from memory.
MOST_SHIFTED = 0.1
DESK = {"width": 1440, "height": 900}
TABLET = {"width": 768, "height": 1024}
PHONE = {"width": 360, "height": 740}


@dataclass(frozen=True, slots=True)
class Surveyed:
    """What was found on a page; `asked` is what it asked the server for, besides itself."""

    findings: tuple[str, ...]
    shifted: float
    wide: tuple[str, ...]
    html_bytes: int
    asked: tuple[str, ...]


def survey(page: Page, shot: Shot, tags: tuple[str, ...]) -> Surveyed:
    """Open a page on a desk by day, look it over, then by night and on narrower screens.

    The page must have been given `WATCH_SHIFTS` before.
    """
    page.set_viewport_size(DESK)
    page.emulate_media(color_scheme="light")
    asked: list[str] = []

    def note(request: Request) -> None:
        if not request.is_navigation_request():
            asked.append(request.url)

    page.on("request", note)
    html_bytes = open_shot(page, shot, tags)
    page.remove_listener("request", note)
    shifted = page.evaluate("window.shifted")
    page.evaluate(AXE)
    findings = page.evaluate(RUN_AXE, [RULES])
    page.emulate_media(color_scheme="dark")
    findings += [f"dark: {text}" for text in page.evaluate(RUN_CONTRAST)]
    wide = []
    for size in (TABLET, PHONE):
        page.set_viewport_size(size)
        shown = page.evaluate("document.documentElement.scrollWidth")
        if shown > size["width"]:
            wide.append(f"{shown} px on {size['width']}")
    page.evaluate(NEXT_FRAME)
    findings += [f"phone, dark: {text}" for text in page.evaluate(RUN_CONTRAST)]
    return Surveyed(tuple(findings), shifted, tuple(wide), html_bytes, tuple(asked))


def open_shot(page: Page, shot: Shot, tags: tuple[str, ...]) -> int:
    """Open a page, type and press what belongs to it; give the bytes of its HTML."""
    answer = page.goto(shot.path.format(*tags))
    for name, text in shot.typed:
        page.fill(f"[name={name}]", text)
    if shot.press:
        with page.expect_navigation() as gone:
            page.get_by_role("button", name=shot.press, exact=True).click()
        answer = gone.value
    page.wait_for_load_state("load")
    return len(answer.body()) if answer is not None else 0
