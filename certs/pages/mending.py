"""Decides where each thing that a draft may lack is put right: the page, and the field on it.

What a draft lacks is told by `certs.queries.checklist`.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from django.urls import reverse

from certs.models import Certificate
from certs.pages.addresses import page_of
from certs.queries.check_item import CheckItem

# Lines of the checklist that the draft itself can mend, with the field of its form.
FIELDS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "Kind of document": "document_kind",
        "Kind that was ordered": "document_kind",
        "Entry in the register": "first_validator",
        "Inspection representative": "first_validator",
        "Marked load": "marked_kg",
    }
)
# Lines that a page of the thing they are about can mend, by its name and the part of it.
PAGES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "Receiving check": "certs:check_reel",
        "Breaking force": "certs:reel_strength",
        "Strength of the assembly": "certs:assembly_strength",
    }
)
# Lines that a form mends which is told what it is about in its address.
FORMS: Final[Mapping[str, tuple[str, str]]] = MappingProxyType(
    {"Proof-load test": ("certs:record_proof", "assembly")}
)


def mend_at(item: CheckItem, draft: Certificate) -> str:
    """Give the address where a line of a draft's checklist is put right; empty: nowhere here."""
    field = FIELDS.get(item.name)
    if field == "document_kind" and draft.kind == Certificate.Kind.CUT_LENGTH:
        # A statement is all that it can be: what it lacks is the mill's document of a reel.
        return page_of(item.about)
    if field is not None:
        return f"{reverse('certs:reword', args=[draft.draft_code])}#id_{field}"
    if item.is_met or not item.about:
        return page_of(item.about)
    if item.name in PAGES:
        return reverse(PAGES[item.name], args=[item.about])
    if item.name in FORMS:
        form, name = FORMS[item.name]
        return f"{reverse(form)}?{name}={item.about}"
    return page_of(item.about)
