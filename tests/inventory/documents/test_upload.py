import io

import pikepdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pikepdf import Array, Dictionary, Name
from PIL import Image

from inventory.documents import upload
from inventory.documents.upload import UnfitFile, check_log, check_scan


def a_pdf(change=None, **saving):
    buffer = io.BytesIO()
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        if change is not None:
            change(pdf)
        pdf.save(buffer, **saving)
    return buffer.getvalue()


def a_picture(kind="PNG", size=(40, 30)):
    buffer = io.BytesIO()
    Image.effect_noise(size, 50).save(buffer, kind)
    return buffer.getvalue()


@pytest.mark.parametrize(
    ("content", "media_type", "extension"),
    [
        (a_pdf(), "application/pdf", "pdf"),
        (a_picture("JPEG"), "image/jpeg", "jpg"),
        (a_picture("PNG"), "image/png", "png"),
    ],
    ids=["PDF", "JPEG", "PNG"],
)
def test_a_scan_is_known_by_its_content(content, media_type, extension):
    kind = check_scan(content)
    assert (kind.media_type, kind.extension) == (media_type, extension)


OTHER_TYPES = {
    "HTML": b"<!doctype html><script>alert(1)</script>",
    "SVG": b'<svg xmlns="http://www.w3.org/2000/svg"/>',
    "a GIF": b"GIF89a" + bytes(20),
    "a zip": b"PK\x03\x04" + bytes(20),
    "a program": b"MZ" + bytes(20),
    "a PDF that starts late": b"junk" + a_pdf(),
}


@pytest.mark.parametrize("content", list(OTHER_TYPES.values()), ids=OTHER_TYPES)
def test_another_type_is_refused(content):
    with pytest.raises(UnfitFile, match="neither a PDF"):
        check_scan(content)


@pytest.mark.parametrize("check", [check_scan, check_log])
def test_nothing_is_refused(check):
    with pytest.raises(UnfitFile, match="empty"):
        check(b"")


@pytest.mark.parametrize(
    ("check", "megabytes"), [(check_scan, 20), (check_log, 10)], ids=["scan", "log"]
)
def test_a_large_file_is_refused(check, megabytes):
    with pytest.raises(UnfitFile, match=f"larger than {megabytes} MB"):
        check(b"1" * (megabytes * 1024**2 + 1))


@pytest.mark.parametrize(
    "content",
    [a_pdf()[:-200], a_pdf()[:40], b"%PDF-1.7\n", a_pdf().replace(b"startxref", b"startxxxx")],
    ids=["cut off", "only begun", "only a header", "garbled"],
)
def test_a_damaged_pdf_is_refused(content):
    with pytest.raises(UnfitFile, match="damaged"):
        check_scan(content)


@pytest.mark.parametrize("reader", ["secret", ""], ids=["to open it", "to change it"])
def test_a_pdf_with_a_password_is_refused(reader):
    lock = pikepdf.Encryption(owner="owner", user=reader)
    with pytest.raises(UnfitFile, match="encrypted"):
        check_scan(a_pdf(encryption=lock))


def test_a_pdf_without_a_page_is_refused():
    buffer = io.BytesIO()
    with pikepdf.new() as pdf:
        pdf.save(buffer)
    with pytest.raises(UnfitFile, match="no page"):
        check_scan(buffer.getvalue())


def script(pdf):
    pdf.Root.OpenAction = Dictionary(S=Name.JavaScript, JS="app.alert(1)")


def script_on_a_page(pdf):
    pdf.pages[0].AA = Dictionary(O=Dictionary(S=Name.JavaScript, JS="app.alert(1)"))


def script_in_an_indirect_annotation(pdf):
    action = Dictionary(Subtype=Name.Link, A=Dictionary(S=Name.JavaScript, JS="x"))
    pdf.pages[0].Annots = Array([pdf.make_indirect(action)])


def named_script(pdf):
    pdf.Root.Names = Dictionary(JavaScript=Dictionary(Names=Array([])))


def launch(pdf):
    pdf.Root.OpenAction = Dictionary(S=Name.Launch, F="cmd.exe")


def attach(name, content):
    def change(pdf):
        pdf.attachments[name] = pikepdf.AttachedFileSpec(pdf, content, filename=name)

    return change


DANGEROUS = {
    "a script that runs at once": (script, "JavaScript"),
    "a script on a page": (script_on_a_page, "JavaScript"),
    "a script in an annotation": (script_in_an_indirect_annotation, "JavaScript"),
    "a named script": (named_script, "JavaScript"),
    "a program to start": (launch, "starts a program"),
    "an attachment named as a program": (attach("a.EXE", b"text"), "attached program"),
    "a program named as a paper": (attach("a.txt", b"MZ\x90\x00"), "attached program"),
    "a shell script named as a paper": (attach("a.txt", b"#!/bin/sh"), "attached program"),
    "a name that ends in dots": (attach("a.exe. .", b"text"), "attached program"),
}


@pytest.mark.parametrize(("change", "what"), list(DANGEROUS.values()), ids=DANGEROUS)
def test_a_pdf_that_can_run_something_is_refused(change, what):
    with pytest.raises(UnfitFile, match=what):
        check_scan(a_pdf(change))


@pytest.mark.parametrize("mode", list(pikepdf.ObjectStreamMode.__members__.values()), ids=str)
def test_a_script_is_found_wherever_its_object_lies(mode):
    with pytest.raises(UnfitFile, match="JavaScript"):
        check_scan(a_pdf(script_in_an_indirect_annotation, object_stream_mode=mode))


def test_an_attached_paper_is_no_danger():
    kind = check_scan(a_pdf(attach("values.json", b'{"C": "0.78"}')))
    assert kind.extension == "pdf"


def packed(raw, filters):
    def change(pdf):
        attach("values.json", b"{}")(pdf)
        stream = pdf.attachments["values.json"].obj.EF.F
        stream.write(raw, filter=filters)

    return change


@pytest.mark.parametrize(
    ("raw", "filters"),
    [(b"no deflate", Name.FlateDecode), (b"MZ", Array([Name.ASCIIHexDecode, Name.FlateDecode]))],
    ids=["falsely packed", "packed twice"],
)
def test_an_attachment_that_hides_its_content_is_refused(raw, filters):
    hidden = packed(raw, filters)
    saving = {"stream_decode_level": pikepdf.StreamDecodeLevel.none, "compress_streams": False}
    with pytest.raises(UnfitFile, match="damaged"):
        check_scan(a_pdf(hidden, **saving))


@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
def test_a_picture_that_is_cut_off_is_refused(kind):
    whole = a_picture(kind, (200, 200))
    with pytest.raises(UnfitFile, match="damaged"):
        check_scan(whole[: len(whole) // 2])


def test_a_picture_of_another_type_than_it_begins_with_is_refused():
    with pytest.raises(UnfitFile, match="damaged"):
        check_scan(b"\xff\xd8\xff" + a_picture("PNG"))


def one_colour(size):
    buffer = io.BytesIO()
    Image.new("1", size).save(buffer, "PNG")
    return buffer.getvalue()


@pytest.mark.parametrize(
    "size", [(50_000, 1_001), (10_000, 10_000), (15_000, 15_000)], ids=["just", "far", "bomb"]
)
def test_a_picture_of_too_many_pixels_is_refused(size):
    with pytest.raises(UnfitFile, match="50 million pixels"):
        check_scan(one_colour(size))


def test_the_limit_of_pixels_is_still_allowed():
    assert check_scan(one_colour((10_000, 5_000))).extension == "png"
    assert upload.MAX_PIXELS == 50_000_000


@pytest.mark.parametrize(
    "text",
    ["Time;Force\r\n0,0;1,2\n", "\ufeffZeit\tKraft\n", "N\xb0\n"],
    ids=["CSV", "BOM", "sign"],
)
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig"])
def test_a_log_is_plain_text(text, encoding):
    assert check_log(text.encode(encoding)).media_type == "text/csv"


@pytest.mark.parametrize("content", [b"a;b\x00", b"\x1f\x8b\x08", a_picture()])
def test_a_log_that_is_no_text_is_refused(content):
    with pytest.raises(UnfitFile, match="not a text file"):
        check_log(content)


@given(
    st.binary(max_size=300), st.sampled_from([b"%PDF-1.7\n", b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n"])
)
def test_no_bytes_bring_it_down(tail, head):
    with pytest.raises(UnfitFile):
        check_scan(head + tail)
