"""Finds what a paper has no need of: parts of a PDF that run something when it is opened."""

import re
import zlib
from collections.abc import Iterator

import pikepdf
from pikepdf import Array, Dictionary, Name, Object, Pdf, Stream

_ACTIONS = {
    "/JavaScript": "JavaScript",
    "/Launch": "an action that starts a program",
}
_EXECUTABLE_NAME = re.compile(
    r"\.(app|bat|cmd|com|dll|exe|hta|jar|js|lnk|msi|ps1|scr|sh|vbs|wsf)[. ]*\Z", re.IGNORECASE
)
_EXECUTABLE_STARTS = (b"MZ", b"\x7fELF", b"#!", b"\xca\xfe\xba\xbe", b"\xcf\xfa\xed\xfe")
_LONGEST_START = 4


def dangers(pdf: Pdf) -> list[str]:
    """Name what the PDF holds that could run, each once and sorted; empty: nothing."""
    return sorted({found for part in _dictionaries(pdf) for found in _dangers_of(part)})


def _dictionaries(pdf: Pdf) -> Iterator[Object]:
    """Every dictionary: each indirect object, and the direct ones nested in it."""
    for top in pdf.objects:
        waiting: list[object] = [top]
        while waiting:
            part = waiting.pop()
            if isinstance(part, Dictionary | Stream):
                yield part
                waiting += [inner for _, inner in part.items() if _is_direct(inner)]
            elif isinstance(part, Array):
                waiting += [inner for inner in part if _is_direct(inner)]


def _is_direct(part: object) -> bool:
    return isinstance(part, Object) and not part.is_indirect


def _dangers_of(part: Object) -> Iterator[str]:
    action = part.get("/S")
    if isinstance(action, Name) and str(action) in _ACTIONS:
        yield _ACTIONS[str(action)]
    if "/JS" in part or "/JavaScript" in part:
        yield _ACTIONS["/JavaScript"]
    if "/EF" in part and _is_executable(part):
        yield "an attached program"


def _is_executable(filespec: Object) -> bool:
    names = [str(filespec[key]) for key in ("/UF", "/F") if key in filespec]
    if any(_EXECUTABLE_NAME.search(name) for name in names):
        return True
    embedded = [stream for _, stream in filespec["/EF"].items() if isinstance(stream, Stream)]
    return any(_start(stream).startswith(_EXECUTABLE_STARTS) for stream in embedded)


def _start(stream: Stream) -> bytes:
    """The first bytes of a stream, without unpacking more of it than that."""
    raw = stream.read_raw_bytes()
    filters = stream.get("/Filter")
    if isinstance(filters, Array) and len(filters) == 1:
        filters = filters[0]
    if filters is None:
        return raw[:_LONGEST_START]
    if filters == Name.FlateDecode:
        try:
            return zlib.decompressobj().decompress(raw, _LONGEST_START)
        except zlib.error as error:
            message = "an attached file cannot be unpacked"
            raise pikepdf.PdfError(message) from error
    message = "an attached file is packed in a way that is not looked into"
    raise pikepdf.PdfError(message)
