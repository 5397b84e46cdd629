import pytest
from django.contrib.auth.models import AnonymousUser
from rest_framework.exceptions import NotAuthenticated
from rest_framework.request import Request
from rest_framework.test import APIRequestFactory
from rest_framework.views import APIView

from inventory.api.acting import MayAct, person_of


class WithoutAnAct(APIView):
    """A view whose author forgot to say what its act is."""

    def post(self, request):
        raise AssertionError


def asked(user, method="post"):
    request = Request(getattr(APIRequestFactory(), method)("/"))
    request.user = user
    return request


def test_an_endpoint_without_an_act_is_closed_to_everybody(qa_officer):
    assert not MayAct().has_permission(asked(qa_officer), WithoutAnAct())


def test_a_method_that_a_view_does_not_know_is_left_to_be_refused_as_such(qa_officer):
    assert MayAct().has_permission(asked(qa_officer, "put"), WithoutAnAct())


def test_somebody_unknown_is_no_person():
    with pytest.raises(NotAuthenticated):
        person_of(asked(AnonymousUser()))
