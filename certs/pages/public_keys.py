"""The public keys of the house, where machines look for them. Open to everyone."""

from django.conf import settings
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.http import require_safe

from certs.pages.handing_out import attached
from certs.queries.public_keys import did_document, jwk_set, paper_roots
from inventory.pages.acting import found


@require_safe
def did(_request: HttpRequest) -> HttpResponse:
    """The did:web document."""
    document = did_document(settings.PUBLIC_ORIGIN)
    return JsonResponse(document, content_type="application/did+json")


@require_safe
def jwks(_request: HttpRequest) -> HttpResponse:
    """The JWK set."""
    return JsonResponse(jwk_set(), content_type="application/jwk-set+json")


@require_safe
def roots(_request: HttpRequest) -> HttpResponse:
    """The roots by which a reader of PDF files can be told to trust the papers of the house."""
    text = found(paper_roots() or None)
    return attached(text.encode(), name="paper-roots.pem", media_type="application/x-pem-file")
