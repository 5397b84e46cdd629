"""Colours of the stylesheets against WCAG 2.2, success criteria 1.4.3 (text) and 1.4.11 (signs)."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[3]
SITE = (ROOT / "certs/static/certs/css/site.css").read_text()
TAG = (ROOT / "templates/certs/tag_style.css.html").read_text()
TEXT, SIGN = 4.5, 3.0


def tokens(css, *, scheme):
    """Return the colours in force: those of the dark scheme are written over the light ones."""
    light, dark = css.split(
        "prefers-color-scheme: dark" if css is SITE else "prefers-color-scheme:dark", 1
    )
    dark = dark.split("@media print")[0].split("/* Ground */")[0]
    found = re.findall(r"--([\w-]+):\s*(#\w+)", light + (dark if scheme == "dark" else ""))
    return dict(found)


def luminance(colour):
    """Relative luminance as WCAG 2.2 defines it."""
    full = colour[1:] if len(colour) == 7 else "".join(2 * digit for digit in colour[1:])
    channels = (int(full[i : i + 2], 16) / 255 for i in (0, 2, 4))
    red, green, blue = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_measure_agrees_with_the_definition():
    # WCAG 2.2, "contrast ratio": black on white is 21 to 1; equal colours are 1 to 1.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#123456", "#123456") == 1


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(
    ("front", "ground", "least"),
    [
        ("ink", "paper", TEXT),
        ("ink", "sheet", TEXT),
        ("ink", "tint", TEXT),
        ("ink", "warm-tint", TEXT),
        ("soft", "paper", TEXT),
        ("soft", "sheet", TEXT),
        ("soft", "tint", TEXT),
        ("soft", "warm-tint", TEXT),
        ("accent", "paper", TEXT),
        ("accent", "sheet", TEXT),
        ("accent", "tint", TEXT),
        ("on-accent", "accent", TEXT),
        ("warm", "paper", TEXT),
        ("warm", "sheet", TEXT),
        ("warm", "tint", TEXT),
        ("warm", "warm-tint", TEXT),
        ("edge", "paper", SIGN),
        ("edge", "sheet", SIGN),
    ],
)
def test_every_pair_on_the_pages_can_be_read(scheme, front, ground, least):
    colours = tokens(SITE, scheme=scheme)
    assert contrast(colours[front], colours[ground]) >= least


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(
    ("front", "ground"), [("ink", "paper"), ("soft", "paper"), ("accent", "paper"), ("on", "band")]
)
def test_every_pair_on_the_tag_page_can_be_read(scheme, front, ground):
    colours = tokens(TAG, scheme=scheme)
    assert contrast(colours[front], colours[ground]) >= TEXT


@pytest.mark.parametrize("band", re.findall(r"\.(?:good|stop)\{--band:(#\w+)\}", TAG))
def test_the_verdict_can_be_read_in_the_sun(band):
    assert contrast("#ffffff", band) >= TEXT


def test_the_tag_style_stays_small():
    assert len(TAG.encode()) <= 5000
