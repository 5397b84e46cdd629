"""Every tag on record, the latest first."""

from django.db.models import QuerySet

from certs.models import Tag


def tags() -> QuerySet[Tag]:
    """Return the tags with the one thing that each names."""
    return Tag.objects.select_related("piece", "assembly", "certificate").order_by("-id")
