"""Decides how the register of representatives is shown and kept."""

from collections.abc import Iterable

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from certs.models import Representative
from certs.pages.acting import for_claim
from certs.pages.forms.register import EndForm, RepresentativeForm
from certs.pages.rendering import allowed_acts, show
from certs.queries.claim_registers import representatives as register
from certs.queries.claims import representative_of
from certs.rules.roles import ClaimAct
from certs.services.representatives import end_representation, register_representative
from inventory.pages.acting import deed, done, found, perform, signed_in, typed
from inventory.pages.rendering import show_list
from inventory.pages.sorting import Sorts
from inventory.pages.table import Cell, Line, Table, build_table

_SORTS: Sorts = {
    "Person": ("person__username",),
    "Capacity": ("capacity",),
    "From": ("valid_from_date",),
    "To": ("valid_to_date",),
}


@signed_in
def representatives(request: HttpRequest) -> HttpResponse:
    """Everyone who may or might validate, the latest entry first."""
    return show_list(
        request,
        "certs/representatives.html",
        rows=register(),
        table=_table,
        area="certificates",
        noun="entries",
        sorts=_SORTS,
        allowed=allowed_acts(request),
    )


@for_claim(ClaimAct.REGISTER_REPRESENTATIVE)
def add_representative(request: HttpRequest) -> HttpResponse:
    """Put a person on the register."""
    form = RepresentativeForm(*typed(request))
    added = perform(request, lambda: register_representative(**form.values, **deed(request)), form)
    if added is not None:
        return done(request, f"{added} is in the register.", "certs:representatives")
    return show(request, "certs/add_representative.html", area="certificates", form=form)


@for_claim(ClaimAct.REGISTER_REPRESENTATIVE)
def end_representative(request: HttpRequest, pk: int) -> HttpResponse:
    """Set the last day of an entry."""
    entry = found(representative_of(pk))
    form = EndForm(*typed(request))
    ended = perform(
        request,
        lambda: end_representation(representative=entry, **form.values, **deed(request)),
        form,
    )
    if ended is not None:
        return done(request, "The last day is set.", "certs:representatives")
    return show(
        request, "certs/end_representative.html", area="certificates", form=form, entry=entry
    )


def _table(rows: Iterable[Representative]) -> Table:
    columns = ("Person", "Capacity", "For", "Independent", "From", "To")
    lines = (
        Line(
            (
                str(row.person),
                row.get_capacity_display(),
                row.organisation,
                "yes" if row.is_independent else "no",
                str(row.valid_from_date),
                Cell(
                    str(row.valid_to_date or "further notice"),
                    href=reverse("certs:end_representative", args=[row.pk]),
                ),
            )
        )
        for row in rows
    )
    return build_table(columns=columns, lines=lines, folds=True)
