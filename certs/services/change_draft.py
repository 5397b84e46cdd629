"""Changes what a draft may choose, such as purchaser, kind of document or representative.

What the paper says of the goods is the record's; it is never typed.
"""

from datetime import datetime

from django.db import transaction

from certs.models import Certificate
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from certs.services.wording import CannotDraft, Wording, put_wording
from inventory.models import Person
from inventory.services.guarded import change_row
from inventory.services.journal import append

_CHOSEN = (
    "document_kind", "customer", "customer_reference", "remarks", "first_validator",
    "second_validator", "marked_kg", "language",
)  # fmt: skip


def change_draft(
    *, certificate: Certificate, wording: Wording, by: Person, at: datetime
) -> Certificate:
    """Give a draft another wording.

    Raises:
        NotAllowed: the person's role drafts no certificates.
        CannotDraft: it is issued, or the purchaser is no customer.
        MarkedTooHigh: the load marked lies above what governs the first band of angles.
        Refusal: a load is marked on what has no working load limit.
    """
    require(by=by, act=ClaimAct.DRAFT_CERTIFICATE)
    with transaction.atomic():
        draft = (
            Certificate.objects.select_for_update(of=("self",))
            .select_related("assembly")
            .get(pk=certificate.pk)
        )
        if draft.state != Certificate.State.DRAFT:
            raise CannotDraft(f"{draft.number} is issued: correct it instead.")
        put_wording(draft, wording)
        change_row(draft, *_CHOSEN, refusal=CannotDraft)
        append(
            at=at,
            by=by,
            act=ClaimAct.DRAFT_CERTIFICATE,
            subject=draft.draft_code,
            detail={"kind": draft.kind, "document_kind": draft.document_kind, "changed": True},
            rows=[draft],
        )
    return draft
