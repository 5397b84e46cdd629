"""What exists: heats, reels, cut pieces, fittings, assemblies, deliveries, holds, the journal."""

from django.apps import AppConfig


class InventoryConfig(AppConfig):
    """The physical record; it knows nothing of the claims made from it."""

    name = "inventory"
    default_auto_field = "django.db.models.BigAutoField"
    verbose_name = "What exists"
