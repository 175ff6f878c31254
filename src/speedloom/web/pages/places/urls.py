"""Addresses of places and kit."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.places import views

HERE = "squads/<str:squad>/places/"

urlpatterns = [
    path(HERE, views.places_page, name="places"),
    path(f"{HERE}add-place/", views.place_page, name="add_place"),
    path(f"{HERE}place/<str:place>/", views.place_page, name="place"),
    path(f"{HERE}add-kit/", views.kit_page, name="add_kit"),
    path(f"{HERE}kit/<str:kit>/", views.kit_page, name="kit"),
]
