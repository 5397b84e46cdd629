"""Takes what is handed in, files, folders and ZIP archives, and tells what each file is.

By content and not by name, except for the list of files, which is called MANIFEST.json.
"""

import io
import re
import zipfile
import zlib
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from certs.documents.verifier.answers import NotReadableError
from certs.documents.verifier.exported_log import ExportedLog, is_tile, read_exports
from certs.documents.verifier.house_keys import (
    NO_KEYS,
    HouseKeys,
    joined_keys,
    keys_of_json,
    keys_of_text,
)
from certs.documents.verifier.journal_answers import (
    BARE_GROWTH_NAMES,
    ENTRY_NAMES,
    GROWTH_NAMES,
    HEAD_NAMES,
    INCLUSION_NAMES,
    Growth,
    Inclusion,
    read_answered_entry,
    read_answered_head,
    read_growth,
    read_inclusion,
)
from certs.documents.verifier.json_form import read_json
from certs.documents.verifier.log_note import (
    PROOF_FIRST_LINE,
    EntryProof,
    LogHead,
    read_entry_proof,
    read_head,
)

MOST_BYTES = 1024 * 1024 * 1024
MOST_FILES = 20_000
MANIFEST = "MANIFEST.json"
_HEAD = re.compile(rb"[^\n]+\n[0-9]+\n[A-Za-z0-9+/=]+\n\n\xe2\x80\x94 ")


class Named(NamedTuple):
    """A file: what to call it, and its bytes; `is_asked` when it was named by itself."""

    name: str
    data: bytes
    is_asked: bool


class HandedIn(NamedTuple):
    """Everything that was handed in, sorted by what it is. `unreadable` says why."""

    files: tuple[Named, ...]
    papers: tuple[Named, ...]
    credentials: tuple[tuple[str, bytes, dict[str, Any]], ...]
    proofs: tuple[tuple[str, EntryProof], ...]
    heads: tuple[tuple[str, LogHead], ...]
    entries: tuple[tuple[str, bytes], ...]
    inclusions: tuple[tuple[str, Inclusion], ...]
    growths: tuple[tuple[str, Growth], ...]
    exports: tuple[ExportedLog, ...]
    keys: HouseKeys
    unreadable: tuple[tuple[str, str], ...]


class _Sorted:
    """The heaps on to which files are put."""

    def __init__(self) -> None:
        self.credentials: list[tuple[str, bytes, dict[str, Any]]] = []
        self.proofs: list[tuple[str, EntryProof]] = []
        self.heads: list[tuple[str, LogHead]] = []
        self.entries: list[tuple[str, bytes]] = []
        self.inclusions: list[tuple[str, Inclusion]] = []
        self.growths: list[tuple[str, Growth]] = []
        self.keys = NO_KEYS
        self.unreadable: list[tuple[str, str]] = []


def read_files(paths: Sequence[str]) -> tuple[Named, ...]:
    """Read files, the files of folders and those of archives.

    Raises `NotReadableError` where one is missing, damaged or too large.
    """
    found: list[Named] = []
    total = 0
    for path in paths:
        for named in _files_at(Path(path)):
            total += len(named.data)
            if total > MOST_BYTES or len(found) >= MOST_FILES:
                raise NotReadableError("more is handed in than this tool reads at once")
            found.append(named)
    return tuple(found)


def sort_files(files: Sequence[Named]) -> HandedIn:
    """Tell what each file is. One that cannot be read is named with the reason."""
    heaps = _Sorted()
    for named in files:
        try:
            _put(named, heaps)
        except NotReadableError as problem:
            heaps.unreadable.append((named.name, str(problem)))
    exports = _exports(files, heaps)
    return HandedIn(
        files=tuple(files),
        papers=tuple(named for named in files if named.data.startswith(b"%PDF")),
        credentials=tuple(heaps.credentials),
        proofs=tuple(heaps.proofs),
        heads=tuple(heaps.heads),
        entries=tuple(heaps.entries),
        inclusions=tuple(heaps.inclusions),
        growths=tuple(heaps.growths),
        exports=tuple(exports),
        keys=heaps.keys,
        unreadable=tuple(heaps.unreadable),
    )


def _put(named: Named, heaps: _Sorted) -> None:
    data = named.data
    if data.startswith(PROOF_FIRST_LINE.encode()):
        heaps.proofs.append((named.name, read_entry_proof(_text(data))))
    elif data.startswith(b"-----BEGIN CERTIFICATE") or named.name.endswith(".vkey"):
        heaps.keys = joined_keys(heaps.keys, keys_of_text(data))
    elif _HEAD.match(data):
        heaps.heads.append((named.name, read_head(_text(data))))
    elif data[:1] == b"{" and not named.name.endswith(MANIFEST):
        _put_json(named, heaps)
    elif named.is_asked and not data.startswith(b"%PDF"):
        raise NotReadableError("it is nothing that this tool knows")


def _put_json(named: Named, heaps: _Sorted) -> None:
    """Other JSON, with fractions in it or of another shape, is none of our business."""
    try:
        document = read_json(named.data)
    except NotReadableError:
        if named.is_asked or b'"proofValue"' in named.data:
            raise
        return
    if "proof" in document and "credentialSubject" in document:
        heaps.credentials.append((named.name, named.data, document))
    elif "verificationMethod" in document or isinstance(document.get("keys"), list):
        heaps.keys = joined_keys(heaps.keys, keys_of_json(document))
    else:
        _put_answer(named.name, document, heaps)


def _put_answer(name: str, document: dict[str, Any], heaps: _Sorted) -> None:
    """Put what the journal answered; whatever else is JSON is none of our business."""
    names = document.keys()
    if names >= INCLUSION_NAMES:
        heaps.inclusions.append((name, read_inclusion(document)))
    elif names >= GROWTH_NAMES or names >= BARE_GROWTH_NAMES:
        heaps.growths.append((name, read_growth(document)))
    elif names >= ENTRY_NAMES:
        heaps.entries.append((name, read_answered_entry(document)))
    elif names >= HEAD_NAMES:
        heaps.heads.append((name, read_answered_head(document)))


def _exports(files: Sequence[Named], heaps: _Sorted) -> list[ExportedLog]:
    if not any(is_tile(named.name) for named in files):
        return []
    try:
        return read_exports({named.name: named.data for named in files})
    except NotReadableError as problem:
        heaps.unreadable.append(("exported journal", str(problem)))
        return []


def _files_at(path: Path) -> Iterator[Named]:
    try:
        if path.is_dir():
            for inner in sorted(path.rglob("*")):
                if inner.is_file():
                    yield Named(
                        inner.relative_to(path).as_posix(), inner.read_bytes(), is_asked=False
                    )
            return
        data = path.read_bytes()
    except OSError as problem:
        raise NotReadableError(f"{path}: {problem.strerror or 'it cannot be read'}") from problem
    if data[:4] == b"PK\3\4":
        yield from _files_in(data, str(path))
    else:
        yield Named(path.name, data, is_asked=True)


def _files_in(data: bytes, name: str) -> Iterator[Named]:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            infos = [info for info in archive.infolist() if not info.is_dir()]
            names = [info.filename for info in infos]
            if len(set(names)) != len(names):
                raise NotReadableError(f"{name}: two files in it have one name")
            if sum(info.file_size for info in infos) > MOST_BYTES:
                raise NotReadableError(f"{name}: more is in it than this tool reads at once")
            for info in infos:
                yield Named(info.filename, _unzipped(archive, info, name), is_asked=False)
    except (zipfile.BadZipFile, OSError, RuntimeError, NotImplementedError, EOFError) as problem:
        raise NotReadableError(f"{name}: it is no whole archive") from problem


def _unzipped(archive: zipfile.ZipFile, info: zipfile.ZipInfo, name: str) -> bytes:
    try:
        return archive.read(info)
    except (zipfile.BadZipFile, zlib.error, OSError, EOFError) as problem:
        raise NotReadableError(f"{name}: {info.filename} in it is damaged") from problem


def _text(data: bytes) -> str:
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as problem:
        raise NotReadableError("it is not text") from problem
