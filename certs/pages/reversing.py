"""Decides how a test that was recorded wrongly is taken back."""

from django.http import HttpRequest, HttpResponse

from certs.models import BreakingTest, ProofTest
from certs.pages.acting import for_claim
from certs.pages.forms.drafts import ReasonForm
from certs.pages.rendering import show
from certs.queries.claims import breaking_test_of, proof_test_of
from certs.queries.wire_tests import wire_test_of
from certs.rules.roles import ClaimAct
from certs.services.reverse_test import Test, reverse_test
from inventory.pages.acting import deed, done, found, perform, typed


@for_claim(ClaimAct.REVERSE_TEST)
def reverse_a_test(request: HttpRequest, code: str) -> HttpResponse:
    """Take back the entry of a test, for a reason that stays beside it."""
    test = breaking_test_of(code) or proof_test_of(code) or found(wire_test_of(code))
    page = _page_of(test)
    form = ReasonForm(*typed(request))
    gone = perform(request, lambda: reverse_test(test=test, **form.values, **deed(request)), form)
    if gone is not None:
        return done(request, f"{code} is reversed and counts for nothing.", page, code)
    return show(request, "certs/reverse_test.html", area="tests", form=form, test=test, page=page)


def _page_of(test: Test) -> str:
    if isinstance(test, BreakingTest):
        return "certs:breaking_test"
    return "certs:proof_test" if isinstance(test, ProofTest) else "certs:wire_test"
