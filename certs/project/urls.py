"""Where everything hangs: pages at the root, the API under /api/, tags under /t/."""

from django.contrib.auth.views import LogoutView
from django.urls import URLPattern, URLResolver, include, path

from inventory.pages.signing_in import sign_in

handler500 = "inventory.pages.trouble.server_error"

urlpatterns: list[URLPattern | URLResolver] = [
    path("sign-in/", sign_in, name="login"),
    path("sign-out/", LogoutView.as_view(), name="logout"),
    path("api/", include("certs.api.urls")),
    path("", include("certs.pages.urls")),
    path("", include("inventory.pages.urls")),
]
