"""Addresses of the first page, and of making a squad."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.today import views

urlpatterns = [
    path("", views.today, name="today"),
    path("squads/<str:squad>/found/", views.found_part, name="today_found"),
    path("squads/new/", views.new_squad, name="new_squad"),
]
