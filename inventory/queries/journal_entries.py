"""The journal as it is read: the latest entry first."""

from django.db.models import QuerySet

from inventory.models import JournalEntry


def journal_entries() -> QuerySet[JournalEntry]:
    """Return the entries with who acted."""
    return JournalEntry.objects.select_related("by").order_by("-number")


def journal_entry(number: int) -> JournalEntry | None:
    """Return an entry by its number, with who acted."""
    return JournalEntry.objects.select_related("by").filter(number=number).first()


def entries_narrowed(*, subject: str = "", act: str = "") -> QuerySet[JournalEntry]:
    """Return the entries of a thing, of an act, or of both; of all where neither is named.

    Codes are capitals and names of keys are not, so a code may be typed in either.
    """
    entries = journal_entries()
    if subject:
        entries = entries.filter(subject__in={subject.strip(), subject.strip().upper()})
    return entries.filter(act=act) if act else entries
