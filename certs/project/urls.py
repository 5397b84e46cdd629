"""Where everything hangs: pages at the root, the API under /api/, tags under /t/."""

from django.urls import path

urlpatterns: list[object] = []
