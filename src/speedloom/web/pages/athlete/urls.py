"""Addresses of an athlete."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.athlete import views

HERE = "squads/<str:squad>/athletes/<str:athlete>/"

urlpatterns = [
    path(HERE, views.athlete_page, name="athlete"),
    path(f"{HERE}about/", views.about_page, name="athlete_about"),
    path(f"{HERE}notes/", views.note_page, name="athlete_note"),
    path(f"{HERE}notes/<int:number>/take-back/", views.take_back_page, name="athlete_note_take_back"),
]
