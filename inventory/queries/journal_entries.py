"""The journal as it is read: the latest entry first."""

from django.db.models import QuerySet

from inventory.models import JournalEntry


def journal_entries() -> QuerySet[JournalEntry]:
    """Return the entries with who acted."""
    return JournalEntry.objects.select_related("by").order_by("-number")
