"""Whatever is done to a signed PDF is noticed: each change, and which fault it is called.

The changes are those of the tamper table of the research behind this program, tried there with
pyHanko 0.38 and pdfsig; those that a reader's "signature is valid" lets pass are marked.
"""

import asyncio
import io
from functools import cache

import pikepdf
import pytest
from asn1crypto.cms import ContentInfo
from hypothesis import given, settings
from hypothesis import strategies as st
from pyhanko.pdf_utils.generic import DictionaryObject, NameObject, StreamObject, pdf_string
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from pyhanko.sign import PdfSignatureMetadata, PdfSigner
from pyhanko.sign.fields import MDPPerm

from certs.documents import pdf_signature
from certs.documents.pdf_check import PdfFault, check_pdf
from certs.documents.pdf_signature import sign_pdf
from tests.certs.documents.signing import AT, HOUSE, PaperHouse, plain_pdf


@cache
def house():
    return PaperHouse()


@cache
def paper():
    return sign_pdf(plain_pdf(), signer=house().signer, house=HOUSE, at=AT)


def judged(content):
    return check_pdf(content, chains=house().chains)


def flipped(content, position):
    return content[:position] + bytes([content[position] ^ 1]) + content[position + 1 :]


def container():
    start = paper().index(b"/Contents <") + len(b"/Contents <")
    return start, paper().index(b">", start)


def in_the_page():
    return flipped(paper(), 700)


def in_the_signature():
    start, end = container()
    cms = bytes.fromhex(paper()[start:end].decode())
    value = ContentInfo.load(cms)["content"]["signer_infos"][0]["signature"].native
    last = cms.index(value) + len(value) - 1  # of the number s, so that it still reads as one
    changed = flipped(cms, last).hex().encode()
    return paper()[:start] + changed + paper()[end:]


def in_the_unused_room():
    _, end = container()
    return paper()[: end - 3] + b"a" + paper()[end - 2 :]


def added_behind(write):
    writer = IncrementalPdfFileWriter(io.BytesIO(paper()))
    write(writer)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def an_overlay():
    def write(writer):
        page = writer.root["/Pages"]["/Kids"][0]
        stream = writer.add_object(StreamObject(stream_data=b"BT /F1 12 Tf (20 kN) Tj ET"))
        page[NameObject("/Contents")] = stream
        writer.update_container(page)

    return added_behind(write)


def a_note():
    def write(writer):
        page = writer.root["/Pages"]["/Kids"][0]
        note = DictionaryObject(
            {
                NameObject("/Type"): NameObject("/Annot"),
                NameObject("/Subtype"): NameObject("/Text"),
                NameObject("/Contents"): pdf_string("20 kN"),
            }
        )
        annotations = page["/Annots"]
        annotations.append(writer.add_object(note))
        writer.update_container(annotations)

    return added_behind(write)


def other_data():
    def write(writer):
        names = writer.root["/Names"]["/EmbeddedFiles"]["/Names"]
        file = names[1]["/EF"]["/F"]
        file._data = None  # noqa: SLF001 -- as a forger would write the stream anew
        file._encoded_data = None  # noqa: SLF001 -- the same
        file._data = b'{"force":"20 kN"}'  # noqa: SLF001 -- the same
        writer.update_container(file)

    return added_behind(write)


def written_anew():
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(paper())) as pdf:
        pdf.save(out)
    return out.getvalue()


def of_another_house():
    return sign_pdf(plain_pdf(), signer=PaperHouse().signer, house=HOUSE, at=AT)


def open_to_changes():
    return misused(plain_pdf(), "Signature", certify=True, docmdp_permissions=MDPPerm.FILL_FORMS)


def not_certified():
    return misused(plain_pdf(), "Signature", certify=False)


def signed_twice():
    return misused(open_to_changes(), "Other", certify=False)


def misused(content, field, **more):
    """Signed with a key of the house, but not as the house signs."""
    cms = pdf_signature._CmsSigner(house().signer)  # noqa: SLF001 -- the key of the house, misused
    meta = PdfSignatureMetadata(field_name=field, md_algorithm="sha256", **more)
    writer = IncrementalPdfFileWriter(io.BytesIO(content))
    return PdfSigner(meta, signer=cms).sign_pdf(writer).getvalue()


def test_a_paper_as_it_was_signed_is_valid():
    check = judged(paper())
    assert check.is_valid
    assert check.words == ""
    assert (check.key, check.signed_at) == (house().signer.name, AT)
    assert check.stamped_at is None
    assert check.enclosures == {"certificate.json": b'{"force":"10 kN"}'}


CHANGES = [
    pytest.param(in_the_page, PdfFault.SIGNATURE, id="a byte of the page"),
    pytest.param(in_the_signature, PdfFault.SIGNATURE, id="a byte of the signature"),
    # pyHanko alone: valid, the whole file covered.
    pytest.param(in_the_unused_room, PdfFault.SIGNATURE, id="unused room in the signature"),
    # pdfsig: "Signature is Valid" for each of these three.
    pytest.param(an_overlay, PdfFault.ADDED, id="other writing laid over the page"),
    pytest.param(a_note, PdfFault.ADDED, id="a note put on the page"),
    pytest.param(other_data, PdfFault.ADDED, id="other data enclosed"),
    # pyHanko alone: valid.
    pytest.param(lambda: paper() + b"% 20 kN\n", PdfFault.ADDED, id="a comment behind the end"),
    # pdfsig: valid.
    pytest.param(lambda: paper() + bytes(2000), PdfFault.UNREADABLE, id="zeros behind the end"),
    pytest.param(lambda: paper()[:-200], PdfFault.UNREADABLE, id="the end cut off"),
    pytest.param(written_anew, PdfFault.SIGNATURE, id="written anew by another program"),
    pytest.param(plain_pdf, PdfFault.UNSIGNED, id="the paper before it was signed"),
    pytest.param(signed_twice, PdfFault.UNSIGNED, id="a second signature"),
    pytest.param(not_certified, PdfFault.SIGNATURE, id="signed, but not as its author"),
    pytest.param(open_to_changes, PdfFault.SIGNATURE, id="signed, but open to changes"),
    pytest.param(of_another_house, PdfFault.KEY, id="signed by another house of this name"),
    pytest.param(lambda: b"", PdfFault.UNREADABLE, id="nothing"),
    pytest.param(lambda: b"%PDF-1.7\n", PdfFault.UNREADABLE, id="the first line of a PDF"),
]


@pytest.mark.parametrize(("changed", "fault"), CHANGES)
def test_a_change_is_noticed(changed, fault):
    check = judged(changed())
    assert check.fault is fault
    assert not check.is_valid
    assert check.words
    assert check.enclosures == {}


def test_other_data_are_what_an_incautious_reader_would_have_seen():
    with pikepdf.open(io.BytesIO(other_data())) as pdf:
        assert b"20 kN" in pdf.attachments["certificate.json"].get_file().read_bytes()


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_no_byte_of_what_is_signed_can_change_unnoticed(data):
    # The container of the signature holds some bytes that nobody signs, such as its version; they
    # say nothing of the paper, and the SHA-256 of the issued file tells them.
    start, end = container()
    outside = st.one_of(st.integers(0, start - 2), st.integers(end + 1, len(paper()) - 1))
    position = data.draw(outside)
    assert not judged(flipped(paper(), position)).is_valid


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=400))
def test_whatever_a_stranger_sends_is_judged(content):
    assert judged(content).fault is PdfFault.UNREADABLE


def test_it_is_judged_where_a_loop_runs_too():
    async def within():
        return judged(paper())

    assert asyncio.run(within()).is_valid
