"""Decides how entries of the journal and its checkpoints are told on pages."""

from collections.abc import Iterable

from django.urls import reverse

from certs.models import Certificate
from certs.pages.addresses import page_of
from certs.queries.issue_entry import issue_entry
from certs.queries.story_events import deed_of
from certs.rules.act_words import told_act
from inventory.models import Checkpoint, JournalEntry
from inventory.pages.facts import Fact, told
from inventory.pages.reading import moment
from inventory.pages.table import Cell, Line, Table, build_table
from inventory.queries.checkpoints import checkpoint_over
from inventory.rules.checkpoint import short_root


def table_of_entries(entries: Iterable[JournalEntry]) -> Table:
    """Return entries with what was done, to what, by whom and when."""
    return build_table(
        columns=("Entry", "Act", "Thing", "By", "When", "Hash begins"),
        lines=(
            Line(
                (
                    Cell(str(entry.number), href=href_of_entry(entry)),
                    act_in_words(entry),
                    Cell(entry.subject, href=page_of(entry.subject)),
                    str(entry.by),
                    moment(entry.at),
                    short_root(bytes.fromhex(entry.leaf_hash)),
                )
            )
            for entry in entries
        ),
        folds=True,
    )


def facts_of_checkpoint(checkpoint: Checkpoint, *, size: int) -> list[Fact]:
    """Tell a checkpoint, and how many of the journal's `size` entries came after it."""
    after = size - checkpoint.size
    return told(
        Fact("Covers", _entries(checkpoint.size), note=f"{_entries(after)} since" if after else ""),
        Fact("Signed", moment(checkpoint.made_at)),
        Fact("Key", checkpoint.key.name, note=_worth(checkpoint)),
        Fact("Root begins", short_root(bytes.fromhex(checkpoint.root))),
        Fact("Root", checkpoint.root),
    )


def facts_of_entry(entry: JournalEntry, checkpoint: Checkpoint | None) -> list[Fact]:
    """Tell an entry, and the checkpoint that covers it."""
    return told(
        Fact("Act", act_in_words(entry)),
        Fact("Thing", entry.subject, href=page_of(entry.subject)),
        Fact("By", str(entry.by)),
        Fact("When", moment(entry.at)),
        Fact("Leaf hash", entry.leaf_hash),
        Fact("Chain hash", entry.chain_hash),
        covered(checkpoint),
    )


def facts_in_journal(certificate: Certificate) -> list[Fact]:
    """Tell where a certificate stands in the journal, and whether that can be proved yet."""
    entry = issue_entry(certificate)
    if entry is None:
        return []
    stands = Fact("Journal entry", str(entry.number), href=href_of_entry(entry))
    covering = covered(checkpoint_over(entry.number))
    proof = reverse("certs:certificate_proof", args=[certificate.number])
    is_covered = covering.shape == "good"
    return told(stands, covering, Fact("Proof", "Save it" if is_covered else "", href=proof))


def covered(checkpoint: Checkpoint | None) -> Fact:
    """Tell whether an entry can be proved to others yet."""
    if checkpoint is None:
        note = "The next certificate, or manage.py checkpoint, signs one."
        return Fact("In a checkpoint", "not yet", shape="wait", note=note)
    root = short_root(bytes.fromhex(checkpoint.root))
    text, note = f"of {_entries(checkpoint.size)}", f"root begins {root}"
    return Fact("In a checkpoint", text, shape="good", note=note)


def href_of_entry(entry: JournalEntry) -> str:
    """Return the address of the page of an entry."""
    return reverse("certs:journal_entry", args=[entry.number])


def act_in_words(entry: JournalEntry) -> str:
    """Return the act as a person would say it; one that has several deeds by the deed."""
    deed = deed_of(entry)
    return told_act(entry.act, deed) if deed else entry.act.replace("_", " ")


def _entries(count: int) -> str:
    return "1 entry" if count == 1 else f"{count} entries"


def _worth(checkpoint: Checkpoint) -> str:
    return "for evaluation: it vouches for nobody" if checkpoint.key.is_evaluation else ""
