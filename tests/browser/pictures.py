"""Takes pictures of the running program: python -m tests.browser.pictures [part of a name]

Makes the demonstration in a folder of its own, serves it, and takes every page on a desk, a tablet
and a phone, by day and by night, into `.pictures`, with an `index.html` to leaf through and
`survey.json`, which says of each page what axe-core found, how heavy it is and what it asked for.
Those of the README go into `fixtures/pictures`. A page that complains, moves, has findings or is
wider than its screen is told, and the exit code is 1.
"""

import json
import sys
from collections.abc import Iterator
from dataclasses import asdict
from html import escape
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from playwright.sync_api import Browser, Page

from tests.browser.chromium import started
from tests.browser.served import ROOT, Served, served, sign_in
from tests.browser.shots import README, TOURS, Shot
from tests.browser.survey import MOST_SHIFTED, WATCH_SHIFTS, Surveyed, survey
from tests.browser.thumbnail import page_of_pdf, write_small
from tests.browser.watch import Watch

ALL = ROOT / ".pictures"
SIZES = {"desk": (1440, 900), "tablet": (768, 1024), "phone": (360, 740)}
README_SIZES = {"desk": (1440, 900), "phone": (390, 844)}
LIGHTS = ("light", "dark")
TALLEST = 6_000


def main(wanted: str = "") -> int:
    """Take every picture, or those with this in their name; give the exit code."""
    ALL.mkdir(exist_ok=True)
    with (
        TemporaryDirectory() as folder,
        served(Path(folder)) as house,
        started() as browser,
    ):
        told = [row for username in TOURS for row in tour(browser, house, username, wanted=wanted)]
    write_index([row["name"] for row in told])
    (ALL / "survey.json").write_text(json.dumps(told, indent=1))
    poor = [row for row in told if is_poor(row)]
    for row in poor:
        sys.stderr.write(f"{json.dumps(row)}\n")
    sys.stdout.write(f"{len(told)} pages in .pictures/index.html, {len(poor)} with complaints\n")
    return 1 if poor else 0


def tour(
    browser: Browser, house: Served, username: str, *, wanted: str
) -> Iterator[dict[str, Any]]:
    """Take the pages of one person; yield what was found on each."""
    context = browser.new_context(base_url=house.origin, locale="en-GB")
    page = context.new_page()
    page.add_init_script(WATCH_SHIFTS)
    sign_in(page, username)
    for shot in TOURS[username]:
        if wanted in shot.name:
            watch = Watch(page)
            found = survey(page, shot, house.tags)
            yield row_of(shot, found, watch.complaints)
            take(page, shot)
    if username and not wanted:
        paper = page.request.get("/certificates/AT-2026-00001/pdf/").body()
        page_of_pdf(paper, README["certificate-paper"])
    context.close()


def row_of(shot: Shot, found: Surveyed, complaints: list[str]) -> dict[str, Any]:
    """Tell of a page what the survey found; what a missing page complains of is expected."""
    silent = shot.name in {"tag-unknown", "not-found", "trace-nothing"}
    return {"name": shot.name, **asdict(found), "complaints": [] if silent else list(complaints)}


def is_poor(row: dict[str, Any]) -> bool:
    """Tell whether anything about a page is to be mended."""
    return bool(
        row["findings"] or row["complaints"] or row["wide"] or row["shifted"] > MOST_SHIFTED
    )


def take(page: Page, shot: Shot) -> None:
    """Take a page that is open on every size, by day and by night."""
    for light in LIGHTS:
        page.emulate_media(color_scheme=light)
        for size, (width, height) in SIZES.items():
            picture(page, ALL / f"{shot.name}-{size}-{light}.png", width=width, height=height)
    if shot.name in README:
        page.emulate_media(color_scheme="light")
        width, height = README_SIZES[shot.readme_size]
        page.set_viewport_size({"width": width, "height": height})
        top = top_of(page, shot.readme_from)
        clip = {"x": 0, "y": top, "width": width, "height": shot.readme_height}
        tall = page.evaluate("document.documentElement.scrollHeight")
        clip["height"] = min(tall - top, shot.readme_height)
        write_small(page.screenshot(clip=clip, full_page=True), README[shot.name])


def picture(page: Page, path: Path, *, width: int, height: int) -> None:
    """Take the whole of a page, down to where nobody would leaf."""
    page.set_viewport_size({"width": width, "height": height})
    tall = min(page.evaluate("document.documentElement.scrollHeight"), TALLEST)
    clip = {"x": 0, "y": 0, "width": width, "height": tall}
    page.screenshot(path=path, clip=clip, full_page=True)


def top_of(page: Page, heading: str) -> int:
    """Tell how far down the page a heading stands, in px, with a little room above."""
    if not heading:
        return 0
    box = page.get_by_role("heading", name=heading, exact=True).bounding_box()
    return int(box["y"]) - 20 if box else 0


def write_index(names: list[str]) -> None:
    """Write a page that shows all pictures, one row for each page of the program."""
    rows = "".join(
        f"<h2>{escape(name)}</h2><p>"
        + "".join(
            f'<a href="{name}-{size}-{light}.png"><img loading="lazy" height="320"'
            f' src="{name}-{size}-{light}.png" alt="{escape(name)}, {size}, {light}"></a> '
            for light in LIGHTS
            for size in SIZES
        )
        + "</p>"
        for name in names
    )
    text = f'<!doctype html><meta charset="utf-8"><title>Every page</title>{rows}'
    (ALL / "index.html").write_text(text)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:2]))
