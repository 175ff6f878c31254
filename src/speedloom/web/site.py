"""The site started: Django set up with the settings of one data folder, once a process."""

from __future__ import annotations

import django
from django.conf import settings
from django.core.handlers.wsgi import WSGIHandler
from django.core.wsgi import get_wsgi_application

from speedloom.web.settings import SiteOptions, site_settings


def start(options: SiteOptions) -> None:
    """Set Django up; in a process where it is set up already (tests), its settings stay."""
    if settings.configured:
        return
    settings.configure(**site_settings(options))
    django.setup()


def application() -> WSGIHandler:
    """Give the site as a server calls it."""
    return get_wsgi_application()
