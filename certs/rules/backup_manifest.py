"""The list of what a backup holds, each part with its hash, as text and back.

What is put into a backup, and how it gets into a database again, is decided elsewhere.
"""

import json
import re
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import Any, Final

from inventory.rules.refusal import Refusal

FORM: Final = 1
MANIFEST: Final = "manifest.json"
ROWS: Final = "rows"
FILES: Final = "files"
KEYS: Final = "keys"

_SHA256 = re.compile(r"[0-9a-f]{64}")
# Each kind of part has one shape of name, so that none can point out of its folder.
_NAMES = {
    ROWS: re.compile(r"rows/[a-z][a-z0-9_]*\.jsonl"),
    FILES: re.compile(r"files/evidence/[0-9a-f]{2}/[0-9a-f]{2}/[0-9a-f]{64}\.[a-z0-9]+"),
    KEYS: re.compile(r"keys/[A-Za-z0-9_-][A-Za-z0-9._-]*"),
}


class UnfitBackup(Refusal):
    """This is no backup that can be restored; nothing was changed."""


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a backup: a table's rows, a kept file, a key file."""

    name: str
    sha256: str
    size_bytes: int
    rows: int | None = None


@dataclass(frozen=True, slots=True)
class Manifest:
    """What a backup holds.

    `missing` names kept files that were not as they were kept when the backup was made, and so are
    not in it. `migrations` say which shape the tables had.
    """

    made_at: str
    engine: str
    migrations: tuple[str, ...]
    journal_size: int
    chain_hash: str
    parts: tuple[Part, ...]
    missing: tuple[str, ...] = ()
    form: int = FORM

    def of(self, kind: str) -> tuple[Part, ...]:
        """The parts of one kind: ROWS, FILES or KEYS."""
        return tuple(part for part in self.parts if part.name.startswith(f"{kind}/"))


def manifest_text(manifest: Manifest) -> str:
    """Write it as JSON, the same for the same backup."""
    return json.dumps(asdict(manifest), ensure_ascii=False, indent=1, sort_keys=True) + "\n"


def read_manifest(text: str | bytes) -> Manifest:
    """Read it back.

    Raises:
        UnfitBackup: it is not such a list, of another form, or names what no backup holds.
    """
    try:
        told = json.loads(text)
        if told["form"] != FORM:
            raise UnfitBackup(f"This backup has the form {told['form']}; {FORM} is read here.")
        manifest = _manifest(told)
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise UnfitBackup("The list of what this backup holds cannot be read.") from error
    _check_names(part.name for part in manifest.parts)
    return manifest


def _manifest(told: dict[str, Any]) -> Manifest:
    return Manifest(
        made_at=str(told["made_at"]),
        engine=str(told["engine"]),
        migrations=tuple(map(str, told["migrations"])),
        journal_size=int(told["journal_size"]),
        chain_hash=str(told["chain_hash"]),
        parts=tuple(_part(part) for part in told["parts"]),
        missing=tuple(map(str, told["missing"])),
    )


def _part(told: dict[str, Any]) -> Part:
    if not _SHA256.fullmatch(told["sha256"]):
        raise ValueError(told["sha256"])
    rows = None if told["rows"] is None else int(told["rows"])
    return Part(str(told["name"]), told["sha256"], int(told["size_bytes"]), rows)


def _check_names(names: Iterable[str]) -> None:
    seen: set[str] = set()
    for name in names:
        shape = _NAMES.get(name.split("/", 1)[0])
        if shape is None or not shape.fullmatch(name):
            raise UnfitBackup(f"A backup holds nothing of the name “{name}”.")
        if name in seen:
            raise UnfitBackup(f"This backup names “{name}” twice.")
        seen.add(name)
