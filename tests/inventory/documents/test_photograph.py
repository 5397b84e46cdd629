"""What a camera writes besides the picture is that of Exif 2.3 (CIPA DC-008), tags by number."""

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ExifTags, Image, ImageCms, PngImagePlugin

from inventory.documents import photograph
from inventory.documents.photograph import LONGEST_SIDE, MAX_PHOTO_BYTES, take_photograph
from inventory.documents.upload import UnfitFile
from inventory.rules.canonical import sha256_hex
from tests.factories import pdf_bytes

RED, BLUE = (200, 20, 20), (20, 20, 200)
ORIENTATION, GPS, OWNER = 0x0112, 0x8825, 0xA430
SAYS = "Secret Owner"


def sent(image, kind="JPEG", **saving):
    buffer = io.BytesIO()
    image.save(buffer, kind, **saving)
    return buffer.getvalue()


def opened(content):
    return Image.open(io.BytesIO(content))


def two_colours(size=(64, 32)):
    """Red on the left, blue on the right."""
    image = Image.new("RGB", size, RED)
    image.paste(BLUE, (size[0] // 2, 0, *size))
    return image


def by_a_camera(*, orientation=1):
    exif = Image.Exif()
    exif[ORIENTATION] = orientation
    exif[0x010E] = SAYS
    exif.get_ifd(ExifTags.IFD.Exif)[OWNER] = SAYS
    exif.get_ifd(ExifTags.IFD.GPSInfo)[1] = "N"
    exif.get_ifd(ExifTags.IFD.GPSInfo)[2] = (47.0, 22.0, 8.0)
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    return sent(two_colours(), exif=exif, icc_profile=profile, comment=SAYS.encode())


def with_text():
    told = PngImagePlugin.PngInfo()
    told.add_text("Author", SAYS)
    return sent(two_colours(), "PNG", pnginfo=told)


@pytest.mark.parametrize("content", [by_a_camera(), with_text()], ids=["JPEG", "PNG"])
def test_nothing_but_the_picture_is_left(content):
    assert SAYS.encode() in content
    taken = take_photograph(content)
    with opened(taken.content) as image:
        assert image.format == "JPEG"
        assert dict(image.getexif()) == {}
        assert set(image.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert SAYS.encode() not in taken.content
    assert b"Exif" not in taken.content
    assert taken.original_sha256 == sha256_hex(content)


# Exif 2.3, 4.6.4 A: 6 is "row 0 at the right, column 0 at the top": to be turned clockwise.
@pytest.mark.parametrize(
    ("orientation", "size", "top_left"),
    [
        pytest.param(1, (64, 32), "red", id="as it is"),
        pytest.param(3, (64, 32), "blue", id="upside down"),
        pytest.param(6, (32, 64), "red", id="turned left"),
        pytest.param(8, (32, 64), "blue", id="turned right"),
    ],
)
def test_a_picture_stands_upright_once_its_metadata_is_gone(orientation, size, top_left):
    with opened(take_photograph(by_a_camera(orientation=orientation)).content) as image:
        assert image.size == size
        red, _, blue = image.getpixel((2, 2))
    assert ("red" if red > blue else "blue") == top_left


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_a_large_picture_is_made_smaller_and_keeps_its_shape(kind):
    with opened(take_photograph(sent(two_colours((6000, 3000)), kind)).content) as image:
        assert image.size == (LONGEST_SIDE, LONGEST_SIDE // 2)


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "CMYK"])
def test_every_kind_of_pixel_is_taken(mode):
    kind = "JPEG" if mode == "CMYK" else "PNG"
    with opened(take_photograph(sent(two_colours().convert(mode), kind)).content) as image:
        assert image.mode == "RGB"


def test_what_is_seen_through_becomes_white():
    clear = Image.new("RGBA", (20, 20), (0, 0, 0, 0))
    with opened(take_photograph(sent(clear, "PNG")).content) as image:
        assert image.getpixel((5, 5)) == (255, 255, 255)


def test_the_same_bytes_give_the_same_picture():
    content = by_a_camera()
    assert take_photograph(content) == take_photograph(content)


OTHER = {
    "a GIF": sent(two_colours(), "GIF"),
    "a TIFF": sent(two_colours(), "TIFF"),
    "a WebP": sent(two_colours(), "WEBP"),
    "a PDF": pdf_bytes(),
    "HTML": b"<!doctype html><script>alert(1)</script>",
    "SVG": b'<svg xmlns="http://www.w3.org/2000/svg"/>',
}


@pytest.mark.parametrize("content", list(OTHER.values()), ids=OTHER)
def test_another_type_is_refused(content):
    with pytest.raises(UnfitFile, match="JPEG or PNG"):
        take_photograph(content)


def test_nothing_is_refused():
    with pytest.raises(UnfitFile, match="empty"):
        take_photograph(b"")


def test_a_large_file_is_refused():
    with pytest.raises(UnfitFile, match="8 MB"):
        take_photograph(b"\xff\xd8\xff" + bytes(MAX_PHOTO_BYTES))


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_too_many_pixels_are_refused_before_they_are_decoded(kind, monkeypatch):
    monkeypatch.setattr(photograph, "MAX_PIXELS", 64 * 32 - 1)
    with pytest.raises(UnfitFile, match="million pixels"):
        take_photograph(sent(two_colours(), kind))


def test_a_bomb_is_refused_by_what_it_says_of_itself():
    # 30 000 x 30 000 pixels of one bit, 110 kB: PNG (ISO/IEC 15948) packs them like nothing.
    bomb = sent(Image.new("1", (30_000, 30_000)), "PNG")
    assert len(bomb) < MAX_PHOTO_BYTES
    with pytest.raises(UnfitFile, match="million pixels"):
        take_photograph(bomb)


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
@given(cut=st.floats(0.01, 0.9))  # the last bytes may be an empty end mark
def test_a_picture_cut_short_is_refused(kind, cut):
    whole = sent(Image.effect_noise((40, 30), 50), kind)
    with pytest.raises(UnfitFile):
        take_photograph(whole[: int(len(whole) * cut)])


@given(junk=st.binary(max_size=400))
def test_junk_behind_a_signature_is_refused(junk):
    with pytest.raises(UnfitFile):
        take_photograph(b"\xff\xd8\xff" + junk)


def test_what_is_appended_to_a_picture_is_left_behind():
    hidden = b"<script>alert(1)</script>"
    assert hidden not in take_photograph(sent(two_colours()) + hidden).content
