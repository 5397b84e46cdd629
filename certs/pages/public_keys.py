"""The public keys of the house, where machines look for them. Open to everyone."""

from django.conf import settings
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.http import require_safe

from certs.queries.public_keys import did_document, jwk_set


@require_safe
def did(_request: HttpRequest) -> HttpResponse:
    """The did:web document."""
    document = did_document(settings.PUBLIC_ORIGIN)
    return JsonResponse(document, content_type="application/did+json")


@require_safe
def jwks(_request: HttpRequest) -> HttpResponse:
    """The JWK set."""
    return JsonResponse(jwk_set(), content_type="application/jwk-set+json")
