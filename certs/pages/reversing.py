"""Decides how a test that was recorded wrongly is taken back."""

from django.http import HttpRequest, HttpResponse

from certs.models import BreakingTest
from certs.pages.acting import for_claim
from certs.pages.forms.drafts import ReasonForm
from certs.pages.rendering import show
from certs.queries.claims import breaking_test_of, proof_test_of
from certs.rules.roles import ClaimAct
from certs.services.reverse_test import reverse_test
from inventory.pages.acting import deed, done, found, perform, typed


@for_claim(ClaimAct.REVERSE_TEST)
def reverse_a_test(request: HttpRequest, code: str) -> HttpResponse:
    """Take back the entry of a test, for a reason that stays beside it."""
    test = breaking_test_of(code) or found(proof_test_of(code))
    page = "certs:breaking_test" if isinstance(test, BreakingTest) else "certs:proof_test"
    form = ReasonForm(*typed(request))
    gone = perform(request, lambda: reverse_test(test=test, **form.values, **deed(request)), form)
    if gone is not None:
        return done(request, f"{code} is reversed and counts for nothing.", page, code)
    return show(request, "certs/reverse_test.html", area="tests", form=form, test=test, page=page)
