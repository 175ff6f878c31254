"""The addresses of the site: those of each topic."""

from __future__ import annotations

from django.urls import URLPattern, URLResolver, include, path

from speedloom.web import refused
from speedloom.web.icon import icon
from speedloom.web.topics import TOPICS

urlpatterns: list[URLPattern | URLResolver] = [
    path("favicon.ico", icon, name="icon"),
    *(path("", include(f"speedloom.web.pages.{topic}.urls")) for topic in TOPICS),
]

handler400 = refused.bad_request
handler403 = refused.not_allowed
handler404 = refused.not_found
handler500 = refused.fault
