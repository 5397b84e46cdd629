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
    """Return the entries of a thing, of an act, or of both; of all where neither is named."""
    asked = {"subject": subject, "act": act}
    return journal_entries().filter(**{name: text for name, text in asked.items() if text})
