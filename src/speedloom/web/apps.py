"""The site as Django knows it; it has no tables."""

from __future__ import annotations

from django.apps import AppConfig


class WebConfig(AppConfig):
    """Pages, forms and templates."""

    name = "speedloom.web"
    label = "web"
