"""One's own way of reading, over the API. The API itself always answers in units of the record."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.permissions import IsAuthenticated
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from inventory.api.acting import person_of, read
from inventory.models import Person, Preference
from inventory.services.prefer import prefer


class PreferenceAsked(serializers.Serializer[Any]):
    """Units of the pages, and the name of a time zone; empty is the zone of the house."""

    units = serializers.ChoiceField(Preference.Units.choices)
    time_zone = serializers.CharField(max_length=64, allow_blank=True)


class ReadingView(APIView):
    """How the pages are written for whoever asks."""

    permission_classes = (IsAuthenticated,)

    @extend_schema(responses=PreferenceAsked)
    def get(self, request: Request) -> Response:
        """Tell it."""
        return Response(_told(person_of(request)))

    @extend_schema(request=PreferenceAsked, responses=PreferenceAsked)
    def post(self, request: Request) -> Response:
        """Change it."""
        prefer(by=person_of(request), **read(PreferenceAsked, request))
        return Response(_told(person_of(request)))


def _told(person: Person) -> dict[str, str]:
    kept = Preference.objects.filter(person=person).first() or Preference(person=person)
    return {"units": kept.units, "time_zone": kept.time_zone}
