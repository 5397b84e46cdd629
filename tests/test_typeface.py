"""The bundled typeface holds every sign that a certificate or a page may print."""

from pathlib import Path

import pytest
from django.conf import settings
from fontTools.ttLib import TTFont

FONTS: Path = settings.ROOT / "certs/static/certs/fonts"
SANS = sorted(FONTS.glob("RopewalkSans-*.ttf"))
MONO = sorted(FONTS.glob("RopewalkMono-*.ttf"))
SIGNS = "≥≤±×÷≈≠−√∑Σµμ°′″‰Ωαβγδεηρσ²³¹⁰⁻½§№·•–—…→←↔↑↓✓✗⌀Ø■□▲●○«»„“”‘’"
# Letters of European names (ISO 8859-1, -2, -9, -13, -15), as Unicode maps those sets.
LETTERS = {
    letter
    for charset in ("iso8859-1", "iso8859-2", "iso8859-9", "iso8859-13", "iso8859-15")
    for letter in bytes(range(0xA1, 0x100)).decode(charset, errors="ignore")
    if letter.isalpha()
}
# The check symbols of Crockford's Base32 come on top of its digits and letters.
CODES = "0123456789ABCDEFGHJKMNPQRSTVWXYZ*~$=U-"


def characters(path):
    return {chr(code) for code in TTFont(path).getBestCmap()}


def test_every_style_comes_for_paper_and_for_pages():
    assert [path.stem.split("-")[1] for path in SANS] == ["Bold", "Regular", "SemiBold"]
    assert [path.stem.split("-")[1] for path in MONO] == ["Bold", "Regular"]
    assert all(path.with_suffix(".woff2").is_file() for path in SANS + MONO)


@pytest.mark.parametrize("path", SANS, ids=lambda path: path.stem)
def test_text_face_holds_the_signs_of_the_trade(path):
    assert set(SIGNS) - characters(path) == set()


@pytest.mark.parametrize("path", SANS, ids=lambda path: path.stem)
def test_text_face_holds_the_letters_of_european_names(path):
    assert LETTERS - characters(path) == set()


@pytest.mark.parametrize("path", MONO, ids=lambda path: path.stem)
def test_mono_face_holds_the_symbols_of_codes(path):
    assert set(CODES) | set("abcdef") <= characters(path)


@pytest.mark.parametrize("path", SANS, ids=lambda path: path.stem)
def test_tabular_figures_are_of_one_width(path):
    font = TTFont(path)
    table = font["GSUB"].table
    tabular = [f.Feature for f in table.FeatureList.FeatureRecord if f.FeatureTag == "tnum"]
    lookup = table.LookupList.Lookup[tabular[0].LookupListIndex[0]]
    swaps = lookup.SubTable[0].mapping
    cmap = font.getBestCmap()
    glyphs = [swaps.get(cmap[ord(digit)], cmap[ord(digit)]) for digit in "0123456789"]
    assert len({font["hmtx"][glyph][0] for glyph in glyphs}) == 1


@pytest.mark.parametrize("path", SANS + MONO, ids=lambda path: path.stem)
def test_face_may_be_embedded_and_names_its_licence(path):
    font = TTFont(path)
    assert font["OS/2"].fsType == 0  # OpenType: installable embedding
    assert "SIL Open Font License" in font["name"].getDebugName(13)
    for holder in font["name"].getDebugName(0).splitlines():
        assert holder in (FONTS / "OFL.txt").read_text()
