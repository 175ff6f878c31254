"""Addresses of restrictions and clearances."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.restrictions import views

SQUAD = "squads/<str:squad>/restrictions/"
ATHLETE = "squads/<str:squad>/athletes/<str:athlete>/"

urlpatterns = [
    path(SQUAD, views.squad_page, name="restrictions"),
    path(f"{ATHLETE}restrictions/", views.athlete_page, name="athlete_restrictions"),
    path(f"{ATHLETE}restrictions/<int:number>/lift/", views.lift, name="restriction_lift"),
    path(f"{ATHLETE}clearances/", views.clearance, name="clearance_record"),
    path(f"{ATHLETE}clearances/<int:number>/take-back/", views.take_back, name="clearance_take_back"),
    path(f"{ATHLETE}asked/", views.asked, name="screening_record"),
]
