"""Decides how tests are listed."""

from django.http import HttpRequest, HttpResponse

from certs.pages.outcome_tables import table_of_breaking_tests, table_of_proof_tests
from certs.pages.rendering import allowed_acts
from certs.queries.claim_registers import breaking_tests, proof_tests
from inventory.pages.acting import signed_in
from inventory.pages.rendering import show_list
from inventory.pages.sorting import Sorts

_BREAKING_SORTS: Sorts = {
    "Test": ("id",),
    "Tested": ("tested_at",),
    "Peak": ("peak_n",),
    "Required": ("required_n",),
    "Outcome": ("outcome",),
    "Machine": ("machine__code",),
}

_PROOF_SORTS: Sorts = {
    "Test": ("id",),
    "Tested": ("tested_at",),
    "Assembly": ("assembly_id",),
    "Required": ("required_n",),
    "Peak": ("peak_n",),
    "Outcome": ("outcome",),
    "Machine": ("machine__code",),
}


@signed_in
def tests(request: HttpRequest) -> HttpResponse:
    """The breaking-force tests, the latest first."""
    return show_list(
        request,
        "certs/tests.html",
        rows=breaking_tests(),
        table=table_of_breaking_tests,
        area="tests",
        noun="tests",
        sorts=_BREAKING_SORTS,
        kind="breaking",
        allowed=allowed_acts(request),
    )


@signed_in
def proof_test_list(request: HttpRequest) -> HttpResponse:
    """The proof-load tests, the latest first."""
    return show_list(
        request,
        "certs/tests.html",
        rows=proof_tests(),
        table=table_of_proof_tests,
        area="tests",
        noun="tests",
        sorts=_PROOF_SORTS,
        kind="proof",
        allowed=allowed_acts(request),
    )
