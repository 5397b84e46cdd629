"""Decides how certificates are drafted: from pieces, an assembly, a test, or as a correction."""

from django.http import HttpRequest, HttpResponse

from certs.models import Certificate
from certs.pages.acting import for_claim
from certs.pages.certificate_tables import name_of
from certs.pages.forms.drafts import (
    AssemblyDraftForm,
    BreakingDraftForm,
    CorrectionForm,
    CutLengthDraftForm,
    PiecesFromForm,
)
from certs.pages.rendering import show
from certs.queries.claimable import pieces_to_certify
from certs.queries.claims import certificate_of
from certs.rules.roles import ClaimAct
from certs.services import drafts
from inventory.pages.acting import deed, done, found, initial_from, perform, typed
from inventory.rules.refusal import Refusal

_SAID = "A draft is made from the record. Look at what it lacks before it is issued."


@for_claim(ClaimAct.DRAFT_CERTIFICATE)
def draft_cut_length(request: HttpRequest) -> HttpResponse:
    """Draft a certificate for cut lengths."""
    source = PiecesFromForm(request.GET)
    form = CutLengthDraftForm(*typed(request), initial=_pieces_asked(request, source))
    made = perform(request, lambda: drafts.draft_cut_length(**form.values, **deed(request)), form)
    if made is not None:
        return _drafted(request, made)
    return show(
        request, "certs/draft_cut_length.html", area="certificates", form=form, source=source
    )


@for_claim(ClaimAct.DRAFT_CERTIFICATE)
def draft_assembly(request: HttpRequest) -> HttpResponse:
    """Draft the test certificate of an assembly."""
    start = {"document_kind": "2.2", **initial_from(request, "assembly")}
    form = AssemblyDraftForm(*typed(request), initial=start)
    made = perform(request, lambda: drafts.draft_assembly(**form.values, **deed(request)), form)
    if made is not None:
        return _drafted(request, made)
    return show(request, "certs/draft_assembly.html", area="certificates", form=form)


@for_claim(ClaimAct.DRAFT_CERTIFICATE)
def draft_breaking(request: HttpRequest) -> HttpResponse:
    """Draft the report of a breaking-force test."""
    form = BreakingDraftForm(*typed(request), initial=initial_from(request, "breaking_test"))
    made = perform(request, lambda: drafts.draft_breaking(**form.values, **deed(request)), form)
    if made is not None:
        return _drafted(request, made)
    return show(request, "certs/draft_breaking.html", area="certificates", form=form)


@for_claim(ClaimAct.SUPERSEDE_CERTIFICATE)
def correct(request: HttpRequest, code: str) -> HttpResponse:
    """Draft the certificate that will replace this one."""
    old = found(certificate_of(code))
    wording = drafts.wording_of(old)
    start = {name: getattr(wording, name) for name in wording.__dataclass_fields__}
    form = CorrectionForm(*typed(request), kind=old.kind, initial=start)
    made = perform(
        request,
        lambda: drafts.draft_correction(certificate=old, **form.values, **deed(request)),
        form,
    )
    if made is not None:
        return _drafted(request, made)
    return show(request, "certs/correct.html", area="certificates", form=form, certificate=old)


def _drafted(request: HttpRequest, made: Certificate) -> HttpResponse:
    return done(request, _SAID, "certs:certificate", name_of(made))


def _pieces_asked(request: HttpRequest, source: PiecesFromForm) -> dict[str, str]:
    """Give the codes of the pieces that the address asks for."""
    start = initial_from(request, "pieces")
    if source.is_valid() and source.cleaned_data["taken_from"]:
        try:
            pieces = pieces_to_certify(source.cleaned_data["taken_from"])
        except Refusal as refusal:
            source.add_error("taken_from", refusal.message)
            return start
        if not pieces:
            source.add_error("taken_from", "It has no piece for supply that lacks a certificate.")
        return {"pieces": "\n".join(piece.code for piece in pieces)}
    return start
