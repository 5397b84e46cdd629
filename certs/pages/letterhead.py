"""Decides how the head of the house's papers is shown as printed, and set."""

from collections.abc import Iterable

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from certs.documents.paper_head import paper_head
from certs.models import Letterhead
from certs.pages.acting import for_claim
from certs.pages.forms.letterhead import LetterheadForm
from certs.pages.rendering import allowed_acts, show
from certs.queries.letterhead import current_letterhead, last_letterhead, letterheads, logo_of
from certs.rules.roles import ClaimAct
from certs.services.letterhead import set_letterhead
from inventory.documents.quantities import moment
from inventory.pages.acting import deed, done, perform, signed_in, typed
from inventory.pages.rendering import show_list
from inventory.pages.table import Line, Table, build_table

_TEXTS = ("name", "address", "contact", "registration", "accreditation")


@signed_in
def letterhead(request: HttpRequest) -> HttpResponse:
    """The head as it is printed now, and those before it."""
    now = current_letterhead()
    return show_list(
        request,
        "certs/letterhead.html",
        rows=letterheads(),
        table=_table,
        area="letterhead",
        noun="letterheads",
        allowed=allowed_acts(request),
        head=paper_head(now.as_json(), logo=logo_of(now.logo_sha256)),
    )


@for_claim(ClaimAct.SET_LETTERHEAD)
def set_head(request: HttpRequest) -> HttpResponse:
    """Ask for the head of papers from now on."""
    last = last_letterhead()
    start = {name: getattr(last or current_letterhead(), name) for name in _TEXTS}
    form = LetterheadForm(*typed(request), last=last, initial=start)
    made = perform(request, lambda: set_letterhead(**form.values, **deed(request)), form)
    if made is not None:
        said = "The letterhead is set: papers issued from now on bear it."
        return done(request, said, "certs:letterhead")
    return show(
        request,
        "certs/set_letterhead.html",
        area="letterhead",
        form=form,
        back=reverse("certs:letterhead"),
    )


def _table(rows: Iterable[Letterhead]) -> Table:
    return build_table(
        columns=("Set", "By", "Name", "Address", "Accreditation", "SHA-256 of the logo"),
        lines=(
            Line(
                (
                    moment(row.set_at),
                    str(row.set_by),
                    row.name,
                    row.address,
                    row.accreditation,
                    row.logo.sha256 if row.logo else "no logo",
                )
            )
            for row in rows
        ),
        folds=True,
    )
