"""What the journal and the counters say, so that a test can see what an act left behind."""

import json
from contextlib import contextmanager

import pytest
from django.apps import apps

from inventory.models import JournalEntry, StoredFile

BINDINGS = {"rows", "named"}


def last_entry():
    """The last journal entry: act, subject, detail but for the rows that it binds.

    That every act binds its rows, and how, has tests of its own.
    """
    entry = JournalEntry.objects.order_by("-number").first()
    told = json.loads(entry.canonical)
    assert (entry.act, entry.subject) == (told["act"], told["subject"])
    detail = {name: told["detail"][name] for name in told["detail"] if name not in BINDINGS}
    return told["act"], told["subject"], detail


def counts():
    """Rows of every table of the physical record, and every counter."""
    models = [m for m in apps.get_app_config("inventory").get_models() if m is not StoredFile]
    rows = {model.__name__: sorted(model.objects.values_list("pk", flat=True)) for model in models}
    series = apps.get_model("inventory", "NumberSeries").objects.values_list("series", "last")
    return rows | {"series": sorted(series)}


@contextmanager
def refuses(error, match):
    """The act is refused with these words and leaves nothing behind."""
    before = counts()
    with pytest.raises(error, match=match) as refused:
        yield refused
    assert counts() == before
