"""What an audit says of one thing in which the record does not agree with itself.

Which things are compared is decided by `certs.queries.audit`.
"""

from dataclasses import dataclass
from enum import StrEnum


class What(StrEnum):
    """The kind of disagreement; the name is the same in the text, in JSON and in the tests."""

    ENTRY = "entry altered"
    CHAIN = "chain broken"
    NUMBERING = "entries out of order or missing"
    BACKDATED = "entry dated back"
    HEAD = "head of the journal wrong"
    NODE = "node of the tree wrong"
    CHECKPOINT = "checkpoint wrong"
    CUT_SHORT = "journal cut short"
    ACT = "act without its rows"
    ROW_CHANGED = "row changed"
    ROW_ADDED = "row added"
    ROW_GONE = "row gone"
    NAME_CHANGED = "name in a row changed"
    UNREADABLE = "row unreadable"
    FILE = "file not as kept"
    SERIES = "number series with a gap"
    LEDGER = "metres do not add up"
    CERTIFICATE = "certificate not as issued"
    CREDENTIAL = "credential not as signed"
    KEY = "key not as recorded"
    GUARD = "guard down"


MEANINGS = {
    What.ENTRY: "Somebody changed the journal after it was written.",
    What.CHAIN: "The entry does not follow from the one before: one of them is no original.",
    What.NUMBERING: "Entries were taken out, put in or swapped.",
    What.BACKDATED: "It claims to be older than an entry that was written before it.",
    What.HEAD: "The journal was changed past the program, or a transaction was cut through.",
    What.NODE: "The hash tree was not grown from these entries.",
    What.CHECKPOINT: "What was signed is not what stands here now.",
    What.CUT_SHORT: "Entries that a signed checkpoint counts are no longer there.",
    What.ACT: "The entry does not bind what such an act writes.",
    What.ROW_CHANGED: "The row was changed past the program.",
    What.ROW_ADDED: "No act wrote this row: it was put in past the program.",
    What.ROW_GONE: "An act wrote this row: it was deleted past the program.",
    What.NAME_CHANGED: "A name or an address in the row was changed past the program.",
    What.UNREADABLE: "What stands in the row cannot be what the program wrote.",
    What.FILE: "The evidence is lost or exchanged; restore it from a backup.",
    What.SERIES: "Numbers are gapless: one was taken out or never written.",
    What.LEDGER: "Metres were invented, lost or cut twice.",
    What.CERTIFICATE: "Do not rely on this certificate until it is explained.",
    What.CREDENTIAL: "Do not rely on this credential until it is explained.",
    What.KEY: "Nobody can check what was signed with it.",
    What.GUARD: "The database no longer refuses changes; look at what else this audit lists.",
}


@dataclass(frozen=True, slots=True)
class Disagreement:
    """One thing, where it is, and what was expected and found there."""

    what: What
    where: str
    expected: str
    found: str

    @property
    def meaning(self) -> str:
        """Say in a sentence what it means."""
        return MEANINGS[self.what]

    def as_json(self) -> dict[str, str]:
        """Give it as JSON has it."""
        return {
            "what": self.what.value,
            "where": self.where,
            "expected": self.expected,
            "found": self.found,
            "meaning": self.meaning,
        }
