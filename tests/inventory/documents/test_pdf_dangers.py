import zlib

import pikepdf
import pytest
from pikepdf import Array, Name

from inventory.documents.pdf_dangers import dangers

PACKED = zlib.compress(b"MZ" + bytes(10**6))


@pytest.mark.parametrize(
    ("raw", "filters"),
    [
        (b"MZ\x90", None),
        (PACKED, Name.FlateDecode),
        (PACKED, Array([Name.FlateDecode])),
    ],
    ids=["as it is", "packed", "packed by a list of one"],
)
def test_an_attached_program_is_found_however_it_is_packed(raw, filters):
    with pikepdf.new() as pdf:
        pdf.attachments["values.json"] = pikepdf.AttachedFileSpec(
            pdf, b"{}", filename="values.json"
        )
        stream = pdf.attachments["values.json"].obj.EF.F
        stream.write(raw)
        if filters is not None:
            stream.Filter = filters
        assert dangers(pdf) == ["an attached program"]


def test_an_empty_pdf_holds_none():
    with pikepdf.new() as pdf:
        assert dangers(pdf) == []


def test_each_danger_is_named_once():
    with pikepdf.new() as pdf:
        for _ in range(2):
            page = pdf.add_blank_page()
            page.AA = pikepdf.Dictionary(O=pikepdf.Dictionary(S=Name.JavaScript, JS="x"))
        assert dangers(pdf) == ["JavaScript"]
