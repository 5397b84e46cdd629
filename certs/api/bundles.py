"""Bundles for audits over the API: asked for, written, journalled, and handed out as one file."""

from tempfile import TemporaryFile
from typing import Any

from django.http import FileResponse
from django.utils import timezone
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.permissions import IsAuthenticated
from rest_framework.request import Request
from rest_framework.viewsets import ViewSet

from certs.api.register import MayClaim
from certs.queries.as_known import check_past
from certs.rules.roles import ClaimAct
from certs.services.take_bundle import Asked, take_bundle
from inventory.api.acting import deed, read
from inventory.api.fields import LengthMm


class BundleAsked(serializers.Serializer[Any]):
    """A code, metres of a reel alone, a past day, and whether people are named."""

    code = serializers.CharField(max_length=60)
    from_mm = LengthMm(required=False)
    to_mm = LengthMm(required=False)
    on = serializers.DateField(
        required=False, help_text="A past day: what was recorded after it is left out."
    )
    with_names = serializers.BooleanField(default=True)


class BundleViewSet(ViewSet):
    """Everything on record about a code, as one archive."""

    permission_classes = (IsAuthenticated, MayClaim)
    acts = {"create": ClaimAct.TAKE_BUNDLE}

    @extend_schema(request=BundleAsked, responses={(200, "application/zip"): OpenApiTypes.BINARY})
    def create(self, request: Request) -> FileResponse:
        """Take a bundle; that it was taken is journalled."""
        asked = Asked(**read(BundleAsked, request))
        if asked.on is not None:
            check_past(asked.on, today=timezone.localdate())
        file = TemporaryFile()  # noqa: SIM115 -- closed by the answer once it is sent
        try:
            taken = take_bundle(asked=asked, into=file, **deed(request))
        except BaseException:
            file.close()
            raise
        file.seek(0)
        answer = FileResponse(file, as_attachment=True, filename=taken.name)
        answer["Cache-Control"] = "private, no-store"
        return answer
