"""What is claimed: specification tables, tests, certificates, tags."""

from django.apps import AppConfig


class CertsConfig(AppConfig):
    """The claims made from the physical record, and the means to check them."""

    name = "certs"
    default_auto_field = "django.db.models.BigAutoField"
    verbose_name = "What is claimed"

    def ready(self) -> None:
        """Register the system checks of the environment."""
        from certs.project import checks, security_checks  # noqa: F401, PLC0415 -- they register on import
