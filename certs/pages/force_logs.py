"""Decides how the kept force log of a test is handed out: as it came, never shown as a page."""

from django.http import HttpRequest, HttpResponse

from certs.pages.handing_out import kept
from certs.queries.claims import breaking_test_of, proof_test_of
from inventory.pages.acting import found, signed_in


@signed_in
def force_log(_request: HttpRequest, code: str) -> HttpResponse:
    """The bytes of the log."""
    proof = proof_test_of(code)
    log = proof.log if proof else found(breaking_test_of(code)).log
    return kept(found(log))
