import io

import pytest
from PIL import Image

from certs.documents.logo import LONGEST_SIDE, MAX_LOGO_BYTES, take_logo
from inventory.documents.upload import UnfitFile


def picture(kind="PNG", *, mode="RGB", size=(40, 20), colour="navy", **written):
    made = io.BytesIO()
    Image.new(mode, size, colour).save(made, format=kind, **written)
    return made.getvalue()


def opened(logo):
    return Image.open(io.BytesIO(logo))


@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
def test_a_picture_becomes_png_and_the_same_each_time(kind):
    logo = take_logo(picture(kind))
    assert (opened(logo).format, opened(logo).size) == ("PNG", (40, 20))
    assert take_logo(picture(kind)) == logo


def test_what_is_seen_through_becomes_white():
    logo = take_logo(picture(mode="RGBA", colour=(0, 0, 0, 0)))
    assert opened(logo).convert("RGB").getpixel((1, 1)) == (255, 255, 255)


def test_words_that_a_program_wrote_into_the_file_are_left_behind():
    exif = Image.Exif()
    exif[0x013B] = "Jane Photographer"  # Artist, TIFF 6.0
    logo = take_logo(picture("JPEG", exif=exif))
    assert b"Jane" not in logo
    assert not opened(logo).getexif()


def test_a_large_picture_is_made_smaller():
    assert max(opened(take_logo(picture(size=(2400, 300)))).size) == LONGEST_SIDE


@pytest.mark.parametrize(
    "sent",
    [
        pytest.param(b"", id="empty"),
        pytest.param(b"<svg xmlns='http://www.w3.org/2000/svg'/>", id="svg"),
        pytest.param(picture("GIF"), id="gif"),
        pytest.param(picture()[:60], id="cut off"),
        pytest.param(b"\x89PNG" + b"0" * MAX_LOGO_BYTES, id="too large"),
    ],
)
def test_anything_else_is_refused_at_its_field(sent):
    with pytest.raises(UnfitFile) as refused:
        take_logo(sent)
    assert refused.value.field == "logo"
