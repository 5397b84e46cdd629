"""Answers in JSON, as all of the API does, where there is no such address."""

from django.http import HttpRequest, JsonResponse
from django.views.decorators.csrf import csrf_exempt
from rest_framework import status


@csrf_exempt  # it does nothing, and says so to a program that posts as well
def nothing_here(_request: HttpRequest) -> JsonResponse:
    """Say that there is nothing at this address."""
    return JsonResponse({"detail": "Not found."}, status=status.HTTP_404_NOT_FOUND)
