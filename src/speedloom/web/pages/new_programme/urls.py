"""The address of a new programme."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.new_programme import views

urlpatterns = [
    path("squads/<str:squad>/new-programme/", views.new_programme_page, name="new_programme"),
]
