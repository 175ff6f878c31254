"""Addresses of the squad."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.squad import views

HERE = "squads/<str:squad>/"

urlpatterns = [
    path(HERE, views.squad_page, name="squad"),
    path(f"{HERE}add/", views.add_page, name="athlete_add"),
]
