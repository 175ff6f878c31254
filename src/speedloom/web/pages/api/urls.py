"""Addresses of the API; its page comes first, since the API would answer at its own root."""

from __future__ import annotations

from django.urls import URLPattern, URLResolver, include, path

from speedloom.web.pages.api import views
from speedloom.web.pages.api.site import addresses

urlpatterns: list[URLPattern | URLResolver] = [
    path("api/", views.api_page, name="api_page"),
    path("api/keys/", views.make_key, name="api_make_key"),
    path("api/keys/<int:number>/take-back/", views.take_back_key, name="api_take_back_key"),
    path("api/", include((addresses(), "ninja"), namespace="api")),
    path("api/<path:rest>", views.no_such_call, name="api_no_such_call"),
]
