"""Decides how labels are asked for and handed out, and how a tag is revoked."""

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from certs.pages.acting import for_claim
from certs.pages.forms.drafts import ReasonForm
from certs.pages.forms.labels import LabelsForm
from certs.pages.handing_out import attached
from certs.pages.label_choice import stocks_to_choose
from certs.pages.rendering import show
from certs.pages.scan import strange_to
from certs.queries.claimable import things_to_label
from certs.queries.claims import tag_of
from certs.rules.roles import ClaimAct
from certs.services.label_sheet import print_labels
from certs.services.tags import revoke_tag
from inventory.pages.acting import deed, done, found, initial_from, perform, typed
from inventory.rules.refusal import Refusal
from inventory.rules.tag_code import fold


@for_claim(ClaimAct.ISSUE_TAG)
def labels(request: HttpRequest) -> HttpResponse:
    """A sheet of labels as PDF."""
    form = LabelsForm(*typed(request), initial=initial_from(request, "things", "sheet"))
    pdf = perform(request, lambda: _printed(request, form), form)
    if pdf is not None:
        return attached(pdf, name="labels.pdf", media_type="application/pdf")
    return show(
        request,
        "certs/labels.html",
        area="certificates",
        form=form,
        stocks=stocks_to_choose(
            origin=settings.PUBLIC_ORIGIN, chosen=str(form["sheet"].value() or "")
        ),
    )


@for_claim(ClaimAct.REVOKE_TAG)
def revoke(request: HttpRequest, code: str) -> HttpResponse:
    """Revoke a damaged, lost or copied tag."""
    tag = found(tag_of(fold(code)))
    form = ReasonForm(*typed(request))
    gone = perform(request, lambda: revoke_tag(tag=tag, **form.values, **deed(request)), form)
    if gone is not None:
        return done(request, "The tag is revoked.", "certs:labels")
    return show(request, "certs/revoke.html", area="certificates", form=form, tag=tag)


def _printed(request: HttpRequest, form: LabelsForm) -> bytes:
    values = form.values
    strange = next(filter(None, (strange_to(request, code) for code in values["things"])), "")
    if strange:
        raise Refusal(strange, field="things")
    return print_labels(**{**values, "things": things_to_label(values["things"])}, **deed(request))
