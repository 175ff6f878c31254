"""Addresses of the retest."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.retest import views

SQUAD = "squads/<str:squad>/retest/"
OWN = "squads/<str:squad>/athletes/<str:athlete>/retest/"

urlpatterns = [
    path(SQUAD, views.retest_page, name="retest"),
    path(f"{SQUAD}paper/", views.retest_paper, name="retest_paper"),
    path(OWN, views.own_page, name="retest_own"),
    path(f"{OWN}paper/", views.own_paper, name="retest_own_paper"),
]
