"""The journal: its entries, its last checkpoint, and what proves an entry to others."""

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from certs.pages.forms.journal import JournalFilter
from certs.pages.handing_out import attached
from certs.pages.journal_table import facts_of_checkpoint, facts_of_entry, table_of_entries
from certs.pages.rendering import allowed_acts, show
from certs.queries.claims import certificate_of
from certs.queries.issue_entry import issue_entry
from inventory.models import JournalEntry
from inventory.pages.acting import found, signed_in
from inventory.pages.rendering import show_list
from inventory.pages.sorting import Sorts
from inventory.queries.checkpoints import checkpoint_over, standing_checkpoint
from inventory.queries.journal_entries import entries_narrowed, journal_entry
from inventory.queries.journal_proofs import BrokenTree, journal_size
from inventory.queries.log_proofs import proof_of_entry

_SORTS: Sorts = {
    "Entry": ("number",),
    "Thing": ("subject",),
}


@signed_in
def journal(request: HttpRequest) -> HttpResponse:
    """List every act, the latest first, below the last checkpoint."""
    filters = JournalFilter(request.GET)
    standing = standing_checkpoint()
    size = journal_size()
    return show_list(
        request,
        "certs/journal.html",
        rows=entries_narrowed(subject=filters.read("subject") or "", act=filters.read("act") or ""),
        table=table_of_entries,
        area="journal",
        noun="entries",
        sorts=_SORTS,
        filters=filters,
        allowed=allowed_acts(request),
        checkpoint=facts_of_checkpoint(standing, size=size) if standing else None,
    )


@signed_in
def entry(request: HttpRequest, entry: int) -> HttpResponse:
    """Show an entry with the very text that its hashes are of."""
    shown = found(journal_entry(entry))
    covering = checkpoint_over(entry)
    return show(
        request,
        "certs/journal_entry.html",
        area="journal",
        entry=shown,
        facts=facts_of_entry(shown, covering),
        is_covered=covering is not None,
    )


@signed_in
def entry_proof(_request: HttpRequest, entry: int) -> HttpResponse:
    """Hand out the proof that an entry is in the journal."""
    return _proof(found(journal_entry(entry)), name=f"entry-{entry}")


@signed_in
def certificate_proof(_request: HttpRequest, number: str) -> HttpResponse:
    """Hand out the proof that the issue of a certificate is in the journal."""
    issued = found(certificate_of(number))
    return _proof(found(issue_entry(issued)), name=str(issued.number))


@require_safe
def checkpoint(_request: HttpRequest) -> HttpResponse:
    """Give the last checkpoint to anyone: no name is in it, and the more keep it, the better."""
    standing = standing_checkpoint()
    if standing is None:
        raise Http404
    answer = HttpResponse(standing.note, content_type="text/plain; charset=utf-8")
    answer["Cache-Control"] = "no-cache"
    return answer


def _proof(entry: JournalEntry, *, name: str) -> HttpResponse:
    """Answer with the file, or say that the journal cannot prove anything (500)."""
    try:
        proof = found(proof_of_entry(entry))
    except BrokenTree as problem:
        return HttpResponse(problem.message, content_type="text/plain; charset=utf-8", status=500)
    text = proof.text.encode()
    return attached(text, name=f"{name}.tlog-proof", media_type="text/plain; charset=utf-8")
