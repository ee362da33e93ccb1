"""The records as Django knows them."""

from django.apps import AppConfig


class RecordsConfig(AppConfig):
    """The tables of Protoconch."""

    name = "protoconch.records"
    label = "records"
    default_auto_field = "django.db.models.BigAutoField"
