"""Where everything hangs: pages at the root, the API under /api/, tags under /t/."""

from django.urls import URLPattern, URLResolver

urlpatterns: list[URLPattern | URLResolver] = []
