"""The records as Django knows them."""

from django.apps import AppConfig
from django.db.models.signals import post_migrate


class RecordsConfig(AppConfig):
    """The tables of Protoconch."""

    name = "protoconch.records"
    label = "records"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Guard the log after every migration."""
        from protoconch.records.append_only import guard

        post_migrate.connect(guard, sender=self)
