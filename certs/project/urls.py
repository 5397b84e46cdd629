"""Where everything hangs: pages at the root, the API under /api/, tags under /t/."""

from django.contrib.auth.views import LoginView, LogoutView
from django.urls import URLPattern, URLResolver, include, path

handler500 = "inventory.pages.trouble.server_error"

urlpatterns: list[URLPattern | URLResolver] = [
    path(
        "sign-in/",
        LoginView.as_view(
            redirect_authenticated_user=True, http_method_names=["get", "head", "post"]
        ),
        name="login",
    ),
    path("sign-out/", LogoutView.as_view(), name="logout"),
    path("api/", include("certs.api.urls")),
    path("", include("certs.pages.urls")),
    path("", include("inventory.pages.urls")),
]
