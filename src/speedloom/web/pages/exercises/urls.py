"""Address of the exercises."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.exercises import views

urlpatterns = [
    path("squads/<str:squad>/exercises/", views.exercises_page, name="exercises"),
]
