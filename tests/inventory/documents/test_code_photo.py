"""Photographs are made here: QR codes by an independent encoder (zxing-cpp's own), warped."""

import io

import pytest
import zxingcpp
from PIL import Image, ImageDraw, ImageFilter

from inventory.documents.code_photo import read_code_from_photo
from inventory.documents.photograph import MAX_PHOTO_BYTES
from inventory.documents.upload import MAX_PIXELS, UnfitFile

ADDRESS = "HTTPS://ROPE.EXAMPLE/T/7Q4K9M2ZXR3T8VW2"
OTHER = "HTTPS://ROPE.EXAMPLE/REELS/R-00001/"
GREY = 96


def code(text=ADDRESS, *, module_px=8, dark=0, light=255):
    """A QR of the text on a bench-grey ground."""
    made = zxingcpp.create_barcode(text, zxingcpp.BarcodeFormat.QRCode, ec_level="M")
    drawn = Image.fromarray(zxingcpp.write_barcode_to_image(made, scale=module_px))
    drawn = drawn.convert("L").point(lambda value: dark if value < 128 else light)
    edge = 4 * module_px
    ground = Image.new("L", (drawn.width + 4 * edge, drawn.height + 4 * edge), GREY)
    ground.paste(light, (edge, edge, ground.width - edge, ground.height - edge))
    ground.paste(drawn, (2 * edge, 2 * edge))
    return ground


def sent(picture, kind="JPEG", **saving):
    buffer = io.BytesIO()
    picture.save(buffer, kind, **saving)
    return buffer.getvalue()


def aslant(picture):
    """Seen from the side: a true perspective in which the right edge is 0.7 of the left one."""
    width, height = picture.size
    turn = (0.7, 0, 0, -0.15 * height / width, 1, 0, -0.3 / width, 0)
    kind = Image.Transform.PERSPECTIVE
    return picture.transform(picture.size, kind, turn, Image.Resampling.BILINEAR, fillcolor=GREY)


def partly_covered(picture):
    """A thumb over the middle, away from the three finders: an eleventh of each side."""
    draw = ImageDraw.Draw(picture)
    width, height = picture.size
    x, y = width * 5 // 9, height * 5 // 9
    draw.ellipse((x, y, x + width // 11, y + height // 11), fill=GREY)
    return picture


def far_away(picture):
    """The code is small in a large picture, as where the phone was held too far."""
    ground = Image.new("L", (3000, 2250), GREY)
    ground.paste(picture, (2100, 300))
    return ground


SEEN = {
    "straight": code,
    "turned by 17 degrees": lambda: code().rotate(17, expand=True, fillcolor=GREY),
    "upside down": lambda: code().rotate(180),
    "out of focus by half a module": lambda: code().filter(ImageFilter.GaussianBlur(4)),
    "aslant": lambda: aslant(code()),
    "pale": lambda: code(dark=150, light=190),
    "partly covered": lambda: partly_covered(code()),
    "far away": lambda: far_away(code(module_px=4)),
    "light on dark": lambda: code(dark=255, light=0),
}


@pytest.mark.parametrize("seen", SEEN.values(), ids=SEEN.keys())
def test_a_code_is_read_as_a_workshop_shows_it(seen):
    assert read_code_from_photo(sent(seen(), quality=80)) == ADDRESS


def test_a_sideways_phone_turns_nothing_over():
    exif = Image.Exif()
    exif[0x0112] = 6
    assert read_code_from_photo(sent(code(), exif=exif)) == ADDRESS


def test_the_nearest_of_two_codes_is_meant():
    near, far = code(module_px=9), code(OTHER, module_px=4)
    both = Image.new("L", (near.width + far.width, near.height), GREY)
    both.paste(far, (0, 0))
    both.paste(near, (far.width, 0))
    assert read_code_from_photo(sent(both)) == ADDRESS


@pytest.mark.parametrize(
    "picture",
    [Image.new("L", (40, 30), GREY), code().filter(ImageFilter.GaussianBlur(40))],
    ids=["nothing on it", "a smear"],
)
def test_where_none_can_be_read_none_is_made_up(picture):
    assert read_code_from_photo(sent(picture)) is None


def test_a_text_too_long_for_a_label_is_no_code():
    assert read_code_from_photo(sent(code("A" * 501, module_px=4), "PNG")) is None


def a_bomb():
    """A small PNG that says it has more pixels than are taken."""
    side = int(MAX_PIXELS**0.5) + 1
    return sent(Image.new("1", (side, side)), "PNG")


@pytest.mark.parametrize(
    ("content", "why"),
    [
        pytest.param(b"", "empty", id="nothing"),
        pytest.param(b"\xff\xd8\xff" + b"\0" * MAX_PHOTO_BYTES, "larger than", id="too large"),
        pytest.param(b"%PDF-1.7 no picture", "JPEG or PNG", id="another type"),
        pytest.param(b"<svg xmlns='x'><script/></svg>", "JPEG or PNG", id="a drawing"),
        pytest.param(sent(code())[:900], "damaged", id="cut off"),
        pytest.param(a_bomb(), "million pixels", id="too many pixels"),
    ],
)
def test_what_is_no_fit_picture_is_refused_in_words(content, why):
    with pytest.raises(UnfitFile, match=why):
        read_code_from_photo(content)
