"""Addresses of a squad's data."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.data import views

HERE = "squads/<str:squad>/data/"

urlpatterns = [
    path(HERE, views.data_page, name="data"),
    path(f"{HERE}export/", views.take_squad, name="export_squad"),
    path(f"{HERE}erase/", views.erase_squad_page, name="erase_squad"),
    path(f"{HERE}athletes/<str:athlete>/export/", views.take_athlete, name="export_athlete"),
    path(f"{HERE}athletes/<str:athlete>/erase/", views.erase_athlete_page, name="erase_athlete"),
]
