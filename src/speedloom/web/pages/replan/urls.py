"""Addresses of planning again."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.replan import views

urlpatterns = [
    path("squads/<str:squad>/programmes/<str:programme>/replan/", views.replan_page, name="replan"),
]
