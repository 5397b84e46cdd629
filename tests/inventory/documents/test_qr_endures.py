"""Printed tags read by an independent decoder (zxing-cpp) after what happens to them on site.

Geometry and optics are made here, not taken from a standard: the code is photographed at five
pixels a module, as a phone does from a hand's breadth or two.
"""

import io
import subprocess
from datetime import UTC, datetime
from functools import cache

import numpy as np
import pytest
import zxingcpp
from PIL import Image, ImageDraw, ImageFilter

from certs.documents.label_pdf import label_pdf
from inventory.documents.qr import tag_address
from inventory.documents.tag_label import Label, code_corner_um
from inventory.rules.label_stock import STOCKS, code_on

ORIGIN = "https://rope.example"
CODE = "7Q4K9M2ZXR3T8VW2"
MODULES = 37
PIXELS_A_MODULE = 5
PAPER = 255


@cache
def printed():
    """The code of the smallest tag as it is printed, with its quiet zone: 185 pixels square."""
    stock = STOCKS["tag-25"]
    labels = [Label(CODE, "P-00001", ())]
    made_at = datetime(2026, 3, 2, tzinfo=UTC)
    pdf = label_pdf(labels, sheet="tag-25", origin=ORIGIN, made_at=made_at)
    sharp = ["pdftoppm", "-r", "1016", "-gray", "-singlefile"]
    made = subprocess.run(sharp, input=pdf, capture_output=True, check=True)
    label = Image.open(io.BytesIO(made.stdout))
    pixel_um = 25_400 / 1016
    module_um = code_on(stock, modules=MODULES).module_um
    left, top = (um / pixel_um for um in code_corner_um(stock))
    side = module_um * MODULES / pixel_um
    size = MODULES * PIXELS_A_MODULE
    box = (left, top, left + side, top + side)
    return label.resize((size, size), Image.Resampling.BOX, box=box)


def is_read(image):
    found = zxingcpp.read_barcodes(image)
    return [one.text for one in found] == [tag_address(origin=ORIGIN, code=CODE)]


def on_paper(image, *, margin=60):
    wide = Image.new("L", (image.width + 2 * margin, image.height + 2 * margin), PAPER)
    wide.paste(image, (margin, margin))
    return wide


def blurred(image, modules):
    return image.filter(ImageFilter.GaussianBlur(modules * PIXELS_A_MODULE))


def turned(image, degrees):
    return on_paper(image).rotate(degrees, Image.Resampling.BICUBIC, fillcolor=PAPER)


def faded(image, contrast):
    """Put dark `contrast` below a light of 60 %: the symbol contrast of ISO/IEC 15415."""
    values = np.asarray(image, dtype=float) / 255
    return Image.fromarray(np.uint8((0.6 - contrast * (1 - values)) * 255))


def wrapped(image, *, share):
    """See the code round a ferrule of which it covers a share, from far off.

    A point at arc s from the middle is seen at r sin(s / r); the circumference is width / share.
    """
    radius = image.width / share / (2 * np.pi)
    seen = 2 * radius * np.sin(min(image.width / 2 / radius, np.pi / 2))
    across = (np.arange(round(seen)) - round(seen) / 2 + 0.5) / radius
    columns = np.clip(np.arcsin(across) * radius + image.width / 2, 0, image.width - 1)
    return on_paper(Image.fromarray(np.asarray(image)[:, np.uint16(columns)]))


def tilted(image, degrees):
    """See the code from the side, from three times its width off: the far edge is shorter."""
    width, away = image.width, 3 * image.width
    half, lean = width / 2, np.radians(degrees)
    near, far = away / (away - half * np.sin(lean)), away / (away + half * np.sin(lean))
    left, right = -half * np.cos(lean) * near, half * np.cos(lean) * far
    corners = [(left, -half * near), (right, -half * far), (right, half * far), (left, half * near)]
    seen = [(x + half + 60, y + half + 60) for x, y in corners]
    flat = [(0, 0), (width, 0), (width, width), (0, width)]
    rows = [
        row
        for (x, y), (u, v) in zip(seen, flat, strict=True)
        for row in ([x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y])
    ]
    solved = np.linalg.solve(np.array(rows), np.array(flat, dtype=float).ravel())
    size = (width + 120, width + 120)
    how = Image.Transform.PERSPECTIVE
    bicubic = Image.Resampling.BICUBIC
    return image.transform(size, how, list(solved), bicubic, fillcolor=PAPER)


def covered(image, *, share, seed):
    """Cover a share of the data with paint, in the lower right, clear of the three corner marks."""
    size = (MODULES - 8) * PIXELS_A_MODULE
    side = round(size * share**0.5)
    first = 4 * PIXELS_A_MODULE
    lowest, highest = first + 9 * PIXELS_A_MODULE, first + size - side
    x, y = np.random.default_rng(seed).integers(lowest, max(highest, lowest + 1), 2)
    hidden = image.copy()
    ImageDraw.Draw(hidden).rectangle((x, y, x + side, y + side), fill=90)
    return hidden


def scratched(image, *, scratches, seed):
    """Scratch the code from edge to edge, a module wide, in the colour of the paper."""
    chance = np.random.default_rng(seed)
    hurt = image.copy()
    for _ in range(scratches):
        y0, y1 = chance.integers(0, image.height, 2)
        ends = (0, int(y0), image.width, int(y1))
        ImageDraw.Draw(hurt).line(ends, fill=PAPER, width=PIXELS_A_MODULE // 2)
    return hurt


def test_the_smallest_tag_is_read_at_five_pixels_a_module():
    assert is_read(printed())


@pytest.mark.parametrize("degrees", range(7, 360, 31))
def test_a_turned_tag_is_read(degrees):
    assert is_read(turned(printed(), degrees))


def test_a_blurred_tag_is_read_up_to_half_a_module():
    """Sigma of the blur in modules; over a whole module nothing can be told apart."""
    assert is_read(blurred(printed(), 0.5))
    assert not is_read(blurred(printed(), 1.2))


@pytest.mark.parametrize("contrast", [0.4, 0.2, 0.15])
def test_a_faded_tag_is_read(contrast):
    """ISO/IEC 15415, from memory: a symbol contrast of 20 % is the least that still has a grade."""
    assert is_read(faded(printed(), contrast))


def test_a_tag_is_read_on_the_least_round_that_its_page_names():
    stock = STOCKS["tag-25"]
    on = code_on(stock, modules=MODULES)
    round_um = np.pi * on.least_round_um
    assert is_read(wrapped(printed(), share=on.module_um * MODULES / round_um))
    # Half of the round has its edges out of sight.
    assert not is_read(wrapped(printed(), share=0.5))


@pytest.mark.parametrize("degrees", [30, 45, 60])
def test_a_tag_is_read_from_the_side(degrees):
    assert is_read(tilted(printed(), degrees))


@pytest.mark.parametrize("seed", range(6))
def test_a_tag_with_paint_on_it_is_read(seed):
    """ISO/IEC 18004: level Q restores about a quarter of the code words, by twos of each."""
    assert is_read(covered(printed(), share=0.08, seed=seed))
    assert not is_read(covered(printed(), share=0.4, seed=seed))


def test_a_scratched_tag_is_read_in_one_of_three_pictures():
    """Whoever scans holds the camera a little differently from picture to picture."""
    for seed in range(6):
        hurt = scratched(printed(), scratches=3, seed=seed)
        assert any(is_read(blurred(turned(hurt, degrees), 0.4)) for degrees in (0, 8, 17)), seed


def test_a_worn_tag_on_a_round_is_read():
    worn = scratched(printed(), scratches=2, seed=2)
    seen = blurred(turned(wrapped(worn, share=0.25), 12), 0.3)
    assert is_read(faded(seen, 0.4))
