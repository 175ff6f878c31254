"""The store as Django knows it."""

from __future__ import annotations

from django.apps import AppConfig


class StoreConfig(AppConfig):
    """The one app that has tables of ours."""

    name = "speedloom.store"
    label = "store"
    default_auto_field = "django.db.models.BigAutoField"
